using Consort.Engine.Circuit;
using Consort.Engine.Documents;
using Spectre.Console;

namespace Consort.Cli.Printing;

/// <summary>A solved circuit as tables or as JSON.</summary>
internal static class SolutionText
{
    private const int NetsBeside = 6; // columns of voltages that fit beside the time

    /// <summary>Tables: nets and parts at rest, or the nets at each moment of a run.</summary>
    public static void Print(Screen screen, CircuitSolution solution, IReadOnlyList<string> read)
    {
        if (solution.Moments.IsEmpty)
            PrintRest(screen, solution, read);
        else
            PrintRun(screen, solution, read);
    }

    private static void PrintRest(Screen screen, CircuitSolution solution, IReadOnlyList<string> read)
    {
        screen.Line($"Operating point at {Figures.Celsius(solution.Kelvin)}, found by {solution.Method} in {Figures.WithUnit(solution.Passes, "passes")}");
        screen.Line();
        Table nets = Screen.Columns(("net", false), ("V", true));
        foreach (NetVoltage net in solution.Nets.Where(net => IsAsked(read, net.Net)))
            Screen.Row(nets, net.Net, $"{net.Volts:0.000000}");
        screen.Write(nets);
        if (read.Count > 0)
            return;
        screen.Line();
        Table parts = Screen.Columns(("part", false), ("current into each terminal", false));
        foreach (PartCurrents part in solution.Parts)
            Screen.Row(
                parts,
                part.Part,
                string.Join("   ", part.Currents.Select(current => $"{current.Terminal} {Figures.Si(Shown(current.Amperes), "A")}"))
            );
        screen.Write(parts);
    }

    private static void PrintRun(Screen screen, CircuitSolution solution, IReadOnlyList<string> read)
    {
        screen.Line($"Run from the operating point at {Figures.Celsius(solution.Kelvin)}; nets in V");
        int[] shown = [.. Enumerable.Range(0, solution.Nets.Length).Where(i => i > 0 && IsAsked(read, solution.Nets[i].Net))];
        foreach (int[] some in shown.Chunk(NetsBeside))
        {
            screen.Line();
            Table table = Screen.Columns([("time", true), .. some.Select(i => (solution.Nets[i].Net, true))]);
            foreach (Moment moment in solution.Moments)
                Screen.Row(table, [Figures.Si(moment.Time, "s"), .. some.Select(i => $"{moment.Volts[i]:0.000000}")]);
            screen.Write(table);
        }
    }

    /// <summary>Below an attoampere is rounding; the JSON has it all the same.</summary>
    private static double Shown(double amperes) => Math.Abs(amperes) < 1e-18 ? 0 : amperes;

    private static bool IsAsked(IReadOnlyList<string> read, string net) => read.Count == 0 || read.Contains(net);

    /// <summary>The shape that docs/json.md describes: nets and parts at the end, and the nets at each moment.</summary>
    public static string Json(string circuit, CircuitSolution solution, IReadOnlyList<string> read) =>
        JsonText.Write(json =>
        {
            json.Text("shape", "consort solution").Number("version", 1).Text("circuit", circuit).Number("kelvin", solution.Kelvin);
            json.Text("method", solution.Method).Number("passes", solution.Passes).Number("steps", solution.Steps).Number("seconds", solution.Time);
            json.Object("nets", () =>
            {
                foreach (NetVoltage net in solution.Nets)
                    json.Number(net.Net, net.Volts);
            });
            json.Object("parts", () =>
            {
                foreach (PartCurrents part in solution.Parts)
                    json.Object(part.Part, () =>
                    {
                        foreach (TerminalCurrent current in part.Currents)
                            json.Number(current.Terminal, current.Amperes);
                    });
            });
            if (!solution.Moments.IsEmpty)
                json.Object("run", () => Run(json, solution, read));
        });

    private static void Run(JsonText json, CircuitSolution solution, IReadOnlyList<string> read)
    {
        json.Numbers("seconds", solution.Moments.Select(moment => moment.Time));
        json.Object("nets", () =>
        {
            for (int i = 0; i < solution.Nets.Length; i++)
                if (IsAsked(read, solution.Nets[i].Net))
                    json.Numbers(solution.Nets[i].Net, solution.Moments.Select(moment => moment.Volts[i]));
        });
    }
}
