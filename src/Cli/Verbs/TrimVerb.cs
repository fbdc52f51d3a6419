using System.Collections.Immutable;
using System.CommandLine;
using Consort.Cli.Printing;
using Consort.Engine.Bench;
using Consort.Engine.Bench.Readings;
using Consort.Engine.Design;
using Consort.Engine.Documents.Bench;
using Consort.Engine.Fit;
using Consort.Engine.Pitch;

namespace Consort.Cli.Verbs;

/// <summary>Reads a folder: its voice and its shelf.</summary>
internal delegate (Voice? Voice, Stock? Stock, ImmutableArray<InputError> Errors) ReadShelf(string folder);

/// <summary>trim VOICE --unit MODULE/SERIAL FILE...: what to turn on a built unit, and does it meet its design.</summary>
internal sealed class TrimVerb(Screen screen, ReadShelf read) : IVerb
{
    /// <summary>What was asked on the command line.</summary>
    internal sealed record Request(BenchInput.Asked Asked, bool Json = false);

    public string Example => "consort trim examples/quartet --unit quartet-lead/0007 examples/quartet/readings/lead-0007.csv";

    public Command Command()
    {
        BenchInput input = new();
        Option<bool> json = new("--json") { Description = "Print it as JSON (docs/json.md)." };
        Command command = new("trim", "From a built unit's readings: which trimmer to turn, how far, what that leaves, and whether it meets the design.");
        input.AddTo(command);
        command.Add(json);
        command.SetAction((parsed, cancel) => Task.Run(() => Run(new(input.Take(parsed), parsed.GetValue(json))), cancel));
        return command;
    }

    /// <summary>Reads, fits, prints. The exit code tells whether the unit keeps its limits once it is trimmed.</summary>
    public int Run(Request request)
    {
        Stock? stock = null;
        if (BenchUnit.Read(screen, Voice, "trim", request.Asked) is not { } found)
            return Exit.BadInput;
        (Voice voice, UnitPlace place, ReadingSet set) = found;
        using ProgressLine progress = new(screen);
        (UnitTrimming? trimming, Unproved? failure) = UnitTrimming.Of(voice, stock ?? Stock.Empty, place, set, Environment.ProcessorCount, progress);
        progress.Dispose();
        if (trimming is null)
        {
            screen.Complain(request.Asked.Folder, failure);
            return Exit.NotComputed;
        }
        if (request.Json)
            screen.Line(TrimmingJson.Write(voice.Name, trimming));
        else
            TrimmingText.Print(screen, trimming);
        return trimming.Verdict.Claims.Any(claim => claim.Key != "tracking" && claim.Standing == ClaimStanding.Missed) ? Exit.LimitMissed : Exit.Done;

        (Voice?, ImmutableArray<InputError>) Voice(string folder)
        {
            (Voice? read_, stock, ImmutableArray<InputError> errors) = read(folder);
            return (read_, errors);
        }
    }
}
