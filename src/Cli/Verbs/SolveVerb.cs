using System.Collections.Immutable;
using System.CommandLine;
using System.CommandLine.Parsing;
using Consort.Cli.Printing;
using Consort.Engine.Circuit;
using Consort.Engine.Circuit.Motion;
using Consort.Engine.Design;
using Consort.Engine.Quantities;

namespace Consort.Cli.Verbs;

/// <summary>Reads a circuit file: the circuit, or null with the reasons.</summary>
internal delegate (CircuitDesign? Circuit, ImmutableArray<InputError> Errors) ReadCircuit(string file);

/// <summary>solve FILE [--until TIME] [--temperature T] [--tolerance R] [--read NETS] [--points N] [--json]: one circuit
/// by itself, at rest or in time.</summary>
internal sealed class SolveVerb(Screen screen, ReadCircuit read) : IVerb
{
    /// <summary>What was asked on the command line, in SI units; no time asks for the operating point.</summary>
    internal sealed record Request(
        string File,
        double? Until = null,
        double Kelvin = Constants.ReferenceTemperature,
        double? Tolerance = null,
        IReadOnlyList<string>? Nets = null,
        int Points = 21,
        bool Json = false
    );

    public string Example => "consort solve examples/circuits/divider.yaml\nconsort solve examples/circuits/saw.yaml --until \"2 ms\" --read \"saw core\"";

    public Command Command()
    {
        Argument<string> file = new("FILE") { Description = "A circuit file: a map 'circuit:' of parts." };
        Option<double?> until = Value("--until", "TIME", Dimension.Time, "Run from the operating point to this time, as \"2 ms\"; left out: the operating point.");
        Option<double?> temperature = Value("--temperature", "T", Dimension.Temperature, "Temperature of all parts, as \"35 °C\"; left out: 25 °C.");
        Option<double?> tolerance = Value("--tolerance", "R", Dimension.Ratio, "Relative error allowed in one step of a run, as 1e-6; left out: 1e-4.");
        Option<string[]> nets = new("--read") { Description = "Nets to print, with commas between; left out: all.", HelpName = "NETS", DefaultValueFactory = _ => [] };
        Option<int> points = new("--points") { Description = "Number of even moments at which a run is printed.", HelpName = "N", DefaultValueFactory = _ => 21, CustomParser = Points };
        Option<bool> json = new("--json") { Description = "Print every net's voltage and every part's currents as JSON (docs/json.md), in full precision." };
        Command command = new("solve", "Solve one circuit by itself: its operating point, or a run in time.") { file, until, temperature, tolerance, nets, points, json };
        command.SetAction((parsed, cancel) =>
        {
            Request request = new(
                parsed.GetRequiredValue(file),
                parsed.GetValue(until),
                parsed.GetValue(temperature) ?? Constants.ReferenceTemperature,
                parsed.GetValue(tolerance),
                VoiceInput.Split(parsed.GetValue(nets)),
                parsed.GetValue(points),
                parsed.GetValue(json)
            );
            return Task.Run(() => Run(request, cancel), cancel);
        });
        return command;
    }

    private static int Points(ArgumentResult result)
    {
        if (!int.TryParse(result.Tokens[0].Value, out int points) || points is < 2 or > 1_000_000)
            result.AddError("--points takes a whole number from 2 to 1000000");
        return points;
    }

    private static Option<double?> Value(string name, string word, Dimension dimension, string description) =>
        new(name)
        {
            Description = description,
            HelpName = word,
            CustomParser = result =>
            {
                string text = result.Tokens[0].Value;
                if (!Quantity.TryRead(text, dimension, bare: false, out double value, out QuantityFault? fault))
                    result.AddError($"{name}: {fault!.What}; {fault.Mend}");
                else if (dimension != Dimension.Temperature && value <= 0)
                    result.AddError($"{name}: '{text}' must be above zero");
                else if (dimension == Dimension.Temperature && value is < 173 or > 473)
                    result.AddError($"{name}: '{text}' is outside -100 °C to 200 °C, where the part models hold");
                return value;
            },
        };

    /// <summary>Reads, solves, prints.</summary>
    public int Run(Request request, CancellationToken cancel)
    {
        (CircuitDesign? design, ImmutableArray<InputError> errors) = read(request.File);
        screen.Complain(errors);
        if (design is null || !KnowsNets(design, request))
            return Exit.BadInput;
        (CircuitSolution? solution, SolveFailure? failure) = Solve(design, request, cancel);
        if (solution is null)
        {
            screen.Complain($"{request.File}: {failure}");
            return Exit.NotComputed;
        }
        if (request.Json)
            screen.Line(SolutionText.Json(design.Name, solution, request.Nets ?? []));
        else
            SolutionText.Print(screen, solution, request.Nets ?? []);
        return Exit.Done;
    }

    private static (CircuitSolution?, SolveFailure?) Solve(CircuitDesign design, Request request, CancellationToken cancel)
    {
        if (request.Until is not { } until)
            return CircuitSolution.AtRest(design, request.Kelvin);
        Accuracy accuracy = request.Tolerance is { } tolerance ? Accuracy.Default with { Relative = tolerance } : Accuracy.Default;
        return CircuitSolution.InTime(design, request.Kelvin, accuracy, until, request.Points, cancel);
    }

    private bool KnowsNets(CircuitDesign design, Request request)
    {
        HashSet<string> known = [CircuitDesign.Ground, .. design.Parts.SelectMany(part => part.Terminals).Select(joint => joint.Net)];
        bool all = true;
        foreach (string net in (request.Nets ?? []).Where(net => !known.Contains(net)))
        {
            string near = NearName.Of(net, known) is { } name ? $"did you mean '{name}'?" : $"one of {string.Join(", ", known)}";
            screen.Complain($"consort solve: --read: there is no net '{net}'\n  mend: {near}");
            all = false;
        }
        return all;
    }
}
