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
        + "consort measure examples/quartet --unit quartet-lead/0007 octaves.wav --record --occasion \"after trimming\"\n"
        + "consort measure examples/quartet --unit quartet-follower/0003 synced.wav --lead-channel 2 --unsynced free.wav";

    public Command Command()
    {
        BenchInput input = new();
        Option<bool> json = new("--json") { Description = "Print the readings as JSON (docs/json.md)." };
        Option<bool> record = new("--record") { Description = "Also keep the readings in the voice's history (docs/history.md)." };
        Option<string?> occasion = new("--occasion") { Description = "Why it was read, for the history: as built, after trimming.", HelpName = "TEXT" };
        Option<int?> leadChannel = new("--lead-channel") { Description = "Recordings are of a follower swept past its lead under sync: the lead's channel (docs/bench.md).", HelpName = "N" };
        Option<string?> unsynced = new("--unsynced") { Description = "The same sweep, or the note at which the follower stands, with sync off.", HelpName = "FILE.wav" };
        Command command = new("measure", "Read a built unit's pitch from tables and recordings, with its uncertainty.");
        input.AddTo(command);
        command.Add(json);
        command.Add(record);
        command.Add(occasion);
        command.Add(leadChannel);
        command.Add(unsynced);
        command.Validators.Add(result =>
        {
            if (result.GetValue(occasion) is not null && !result.GetValue(record))
                result.AddError("an occasion needs --record");
            if (result.GetValue(leadChannel) is null != result.GetValue(unsynced) is null)
                result.AddError("a sweep under sync needs both --lead-channel and --unsynced");
            if (result.GetValue(leadChannel) < 1)
                result.AddError("--lead-channel counts from 1");
        });
        command.SetAction((parsed, cancel) =>
        {
            BenchInput.Asked asked = input.Take(parsed);
            if (parsed.GetValue(leadChannel) is { } channel && parsed.GetValue(unsynced) is { } free)
                asked = asked with { Options = asked.Options with { Sync = new(channel, free) } };
            return Task.Run(() => Run(new(asked, parsed.GetValue(json), parsed.GetValue(record), parsed.GetValue(occasion))), cancel);
        });
        return command;
    }

    /// <summary>Reads, keeps where that was asked, prints.</summary>
    public int Run(Request request)
    {
        if (BenchUnit.Read(screen, read, "measure", request.Asked) is not { } found)
            return Exit.BadInput;
        (Voice voice, UnitPlace place, ReadingSet set) = found;
        if (request.Record && UnitsVerb.Kept(request.Asked.Folder, Entries(set, place, clock.GetUtcNow(), request.Occasion)) is { } error)
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

    private static IReadOnlyCollection<LogEntry> Entries(ReadingSet set, UnitPlace place, DateTimeOffset time, string? occasion) =>
        [.. set.Readings.IsEmpty ? Array.Empty<LogEntry>() : [SittingEntry.Of(set, place, time, occasion)], .. SyncEntry.Of(set, time, occasion)];
}
