using System.CommandLine;
using Consort.Cli.Printing;
using Consort.Engine.Bench;
using Consort.Engine.Bench.Readings;
using Consort.Engine.Design;
using Consort.Engine.Documents.Bench;

namespace Consort.Cli.Verbs;

/// <summary>measure VOICE --unit MODULE/SERIAL FILE...: read a built unit's pitch from tables and recordings.</summary>
internal sealed class MeasureVerb(Screen screen, ReadVoice read) : IVerb
{
    /// <summary>What was asked on the command line.</summary>
    internal sealed record Request(BenchInput.Asked Asked, bool Json = false);

    public string Example =>
        "consort measure examples/quartet --unit quartet-lead/0007 examples/quartet/readings/lead-0007.csv\n"
        + "consort measure examples/quartet --unit quartet-lead/0007 octaves.wav --reference a440.wav";

    public Command Command()
    {
        BenchInput input = new();
        Option<bool> json = new("--json") { Description = "Print the readings as JSON (docs/json.md)." };
        Command command = new("measure", "Read a built unit's pitch from tables and recordings, with its uncertainty.");
        input.AddTo(command);
        command.Add(json);
        command.SetAction((parsed, cancel) => Task.Run(() => Run(new(input.Take(parsed), parsed.GetValue(json))), cancel));
        return command;
    }

    /// <summary>Reads, prints.</summary>
    public int Run(Request request)
    {
        if (BenchUnit.Read(screen, read, "measure", request.Asked) is not { } found)
            return Exit.BadInput;
        (Voice voice, UnitPlace place, ReadingSet set) = found;
        if (request.Json)
            screen.Line(ReadingsJson.Write(voice.Name, place, set));
        else
            ReadingTables.Print(screen, place, set);
        return Exit.Done;
    }
}
