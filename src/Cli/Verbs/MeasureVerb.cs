using System.CommandLine;
using Consort.Cli.Printing;
using Consort.Engine.Bench;
using Consort.Engine.Bench.History;
using Consort.Engine.Bench.Readings;
using Consort.Engine.Design;
using Consort.Engine.Documents.Bench;

namespace Consort.Cli.Verbs;

/// <summary>measure VOICE --unit MODULE/SERIAL FILE...: read a built unit's pitch from tables and recordings.</summary>
internal sealed class MeasureVerb(Screen screen, ReadVoice read, TimeProvider clock) : IVerb
{
    /// <summary>What was asked on the command line.</summary>
    internal sealed record Request(BenchInput.Asked Asked, bool Json = false, bool Record = false, string? Occasion = null);

    public string Example =>
        "consort measure examples/quartet --unit quartet-lead/0007 examples/quartet/readings/lead-0007.csv\n"
        + "consort measure examples/quartet --unit quartet-lead/0007 octaves.wav --reference a440.wav\n"
        + "consort measure examples/quartet --unit quartet-lead/0007 octaves.wav --record --occasion \"after trimming\"";

    public Command Command()
    {
        BenchInput input = new();
        Option<bool> json = new("--json") { Description = "Print the readings as JSON (docs/json.md)." };
        Option<bool> record = new("--record") { Description = "Also keep the readings in the voice's history (docs/history.md)." };
        Option<string?> occasion = new("--occasion") { Description = "Why it was read, for the history: as built, after trimming.", HelpName = "TEXT" };
        Command command = new("measure", "Read a built unit's pitch from tables and recordings, with its uncertainty.");
        input.AddTo(command);
        command.Add(json);
        command.Add(record);
        command.Add(occasion);
        command.Validators.Add(result =>
        {
            if (result.GetValue(occasion) is not null && !result.GetValue(record))
                result.AddError("an occasion needs --record");
        });
        command.SetAction((parsed, cancel) => Task.Run(() => Run(new(input.Take(parsed), parsed.GetValue(json), parsed.GetValue(record), parsed.GetValue(occasion))), cancel));
        return command;
    }

    /// <summary>Reads, keeps where that was asked, prints.</summary>
    public int Run(Request request)
    {
        if (BenchUnit.Read(screen, read, "measure", request.Asked) is not { } found)
            return Exit.BadInput;
        (Voice voice, UnitPlace place, ReadingSet set) = found;
        if (request.Record && UnitsVerb.Kept(request.Asked.Folder, [SittingEntry.Of(set, place, clock.GetUtcNow(), request.Occasion)]) is { } error)
        {
            screen.Complain([error]);
            return Exit.BadInput;
        }
        if (request.Json)
            screen.Line(ReadingsJson.Write(voice.Name, place, set));
        else
            ReadingTables.Print(screen, place, set);
        if (request is { Record: true, Json: false })
            screen.Line($"Recorded in {UnitLog.In(request.Asked.Folder).Replace('\\', '/')}.");
        return Exit.Done;
    }
}
