using System.Collections.Immutable;
using System.CommandLine;
using Consort.Cli.Printing;
using Consort.Engine.Design;
using Consort.Engine.Documents;
using Consort.Engine.Pitch.Grades;

namespace Consort.Cli.Verbs;

/// <summary>afford VOICE [--yield SHARE] [--spend SUM] [--seed N] [--write] [--json]: the cheapest grades of parts that reach a yield, or
/// the best yield that a sum buys.</summary>
internal sealed class AffordVerb(Screen screen) : IVerb
{
    /// <summary>What was asked on the command line.</summary>
    internal sealed record Request(string Folder, double? Yield = null, double? Spend = null, ulong Seed = 1, bool Write = false, bool Json = false);

    public string Example => "consort afford examples/quartet --yield 95\nconsort afford examples/quartet --spend 25 --write";

    public Command Command()
    {
        Argument<string> folder = new("VOICE") { Description = "The voice's folder (it holds voice.yaml and stock.yaml)." };
        Option<double?> yield = new("--yield") { Description = "Per cent of trimmed builds that must keep every limit; not given: the voice's own limit.", HelpName = "PERCENT" };
        Option<double?> spend = new("--spend") { Description = "Look for the best yield that this sum for graded parts of one voice buys.", HelpName = "SUM" };
        Option<ulong> seed = new("--seed") { Description = "Seed that builds are drawn from.", HelpName = "NUMBER", DefaultValueFactory = _ => 1UL };
        Option<bool> write = new("--write") { Description = "Write what was found into the modules' files; everything else in them stays." };
        Option<bool> json = new("--json") { Description = "Print the finding as JSON (docs/json.md) instead of tables." };
        Command command = new("afford", "Choose grades of parts from the shelf: cheapest for a yield, or best yield for a sum.") { folder, yield, spend, seed, write, json };
        command.Validators.Add(result =>
        {
            if (result.GetValue(yield) is <= 0 or > 100)
                result.AddError("--yield: give per cent of builds, above 0 and up to 100");
            if (result.GetValue(spend) is < 0)
                result.AddError("--spend: give a sum in the shelf's currency");
            if (result.GetValue(yield) is not null && result.GetValue(spend) is not null)
                result.AddError("--yield and --spend exclude each other: one is asked, the other is found");
        });
        command.SetAction((parsed, cancel) =>
        {
            Request request = new(
                parsed.GetRequiredValue(folder),
                parsed.GetValue(yield) / 100,
                parsed.GetValue(spend),
                parsed.GetValue(seed),
                parsed.GetValue(write),
                parsed.GetValue(json)
            );
            return Task.Run(() => Run(request, cancel), cancel);
        });
        return command;
    }

    /// <summary>Reads, searches, writes when asked, prints.</summary>
    public int Run(Request request, CancellationToken cancel)
    {
        (Voice? voice, Stock? stock, ImmutableArray<InputError> errors) = DesignFolder.Read(request.Folder);
        screen.Complain(errors);
        if (voice is null || stock is null)
            return Exit.BadInput;
        using ProgressLine progress = new(screen);
        double asked = request.Yield ?? voice.Limits.Yield;
        (GradeFinding? finding, Engine.Pitch.Unproved? failure) = new GradeStudy(Environment.ProcessorCount).Run(
            voice,
            stock,
            new(asked, request.Spend, request.Seed),
            progress,
            cancel
        );
        progress.Dispose();
        cancel.ThrowIfCancellationRequested();
        if (finding is null)
        {
            screen.Complain(request.Folder, failure);
            return Exit.NotComputed;
        }
        if (request.Json)
            screen.Line(GradesJson.Write(voice.Name, asked, request.Spend, finding));
        else
            GradeTables.Print(screen, voice, asked, request.Spend, finding);
        if (request.Write && finding.After is not null && !ModulePatch.Write(request.Folder, finding, screen))
            return Exit.BadInput;
        bool reached = finding.After is not null && (request.Spend is not null || finding.YieldAfter.Low >= asked);
        return reached ? Exit.Done : Exit.LimitMissed;
    }
}
