using Consort.Cli;
using Consort.Cli.Verbs;
using Consort.Engine.Bench.History;
using Consort.Tests.Measuring.History;
using System.Text.Json;
using Consort.Engine.Design;
using Consort.Tests.Pitch;
using Xunit;

namespace Consort.Tests.Cli;

public sealed class UnitsVerbTests : IDisposable
{
    private sealed class Still : TimeProvider
    {
        public override DateTimeOffset GetUtcNow() => Entries.Noon.AddHours(1);
    }

    private static readonly Voice Toy = ToyVoice.OnMultiple(2, ToyVoice.Oscillator("toy", "100k"));

    private readonly string folder = Directory.CreateTempSubdirectory("consort-units-").FullName;

    public UnitsVerbTests()
    {
        Directory.CreateDirectory(Path.Combine(folder, "modules"));
        File.WriteAllText(Path.Combine(folder, "modules", "lead.yaml"), "name: lead\n");
    }

    public void Dispose() => Directory.Delete(folder, recursive: true);

    private Call Do(Func<UnitsVerb, int> what)
    {
        (Screen screen, StringWriter output, StringWriter error) = Call.Paper();
        int code = what(new(screen, _ => (Toy, []), _ => Stock.Empty, new Still()));
        string root = folder.Replace('\\', '/');
        return new(code, output.ToString().Replace(root, "voice", StringComparison.Ordinal), error.ToString().Replace(root, "voice", StringComparison.Ordinal));
    }

    private string At(string name) => Path.Combine(folder, name);

    [Fact]
    public void A_units_story_reads_as_kept()
    {
        Assert.Null(UnitsVerb.Kept(folder, [Entries.Sitting(Entries.Lead, Entries.Noon), Entries.Sitting(Entries.Lead, Entries.Noon.AddDays(200), cents: 1.5) with { Occasion = "after a concert" }, Entries.Sitting(Entries.Lead, Entries.Noon.AddDays(565.25), cents: 2.5) with { Occasion = null }]));
        Assert.Equal(Exit.Done, Do(verb => verb.Record(new(folder, "lead/0007", Trim: "RV2 +1.5", Fault: "no square", Cause: "cold joint at U2", Note: "for the shop"))).Code);
        Assert.Equal(Exit.Done, Do(verb => verb.Record(new(folder, "lead/0007", Trim: "RV3 40%", On: "2026-03-02"))).Code);
        Golden.Same("cli/units-show.txt", Do(verb => verb.Show(folder, "lead/0007")).ToString());
        Golden.Same("cli/units-list.txt", Do(verb => verb.List(folder)).ToString());
        JsonPage.Names(JsonDocument.Parse(Do(verb => verb.Show(folder, "lead/0007", json: true)).Output).RootElement);
        JsonPage.Names(JsonDocument.Parse(Do(verb => verb.List(folder, json: true)).Output).RootElement);
    }

    [Fact]
    public void An_export_taken_into_another_voice_is_the_same_history()
    {
        UnitsVerb.Kept(folder, Entries.Every());
        Assert.Equal(Exit.Done, Do(verb => verb.Export(folder, At("all.csv"))).Code);
        Directory.CreateDirectory(At("other"));
        Assert.Contains("10 entries taken in, 0 were there already", Do(verb => verb.Import(At("other"), At("all.csv"))).Output, StringComparison.Ordinal);
        Assert.Contains("0 entries taken in, 10 were there already", Do(verb => verb.Import(At("other"), At("all.csv"))).Output, StringComparison.Ordinal);
        Assert.Equal(Entries.Words(Entries.Every()), Entries.Words(Entries.Read(UnitLog.In(At("other")))));
    }

    [Fact]
    public void A_certificate_is_written_with_its_verdict_and_a_unit_that_was_never_read_has_none()
    {
        UnitsVerb.Kept(folder, [Entries.Sitting(new("toy", "1"), Entries.Noon, cents: 80), new NoteEntry(new("toy", "2"), Entries.Noon, "bare board")]);
        Call call = Do(verb => verb.Certify(folder, "toy/1", At("one.pdf")));
        Assert.Equal((Exit.LimitMissed, "voice/one.pdf: toy/1, fail\n"), (call.Code, call.Output.Replace('\\', '/')));
        Assert.True(File.Exists(At("one.pdf")));
        Assert.Contains("was never read", Do(verb => verb.Certify(folder, "toy/2", At("two.pdf"))).Error, StringComparison.Ordinal);
    }

    [Fact]
    public void Mistakes_are_told_with_a_mend_and_nothing_is_kept()
    {
        Assert.Contains("there is no history yet", Do(verb => verb.List(folder)).Error, StringComparison.Ordinal);
        Assert.Contains("did you mean 'lead'?", Do(verb => verb.Record(new(folder, "laed/1", Note: "x"))).Error, StringComparison.Ordinal);
        Assert.Contains("is no turn of a trimmer", Do(verb => verb.Record(new(folder, "lead/1", Trim: "RV2 much"))).Error, StringComparison.Ordinal);
        Assert.Contains("a cause needs its fault", Do(verb => verb.Record(new(folder, "lead/1", Note: "x", Cause: "y"))).Error, StringComparison.Ordinal);
        Assert.Contains("is no date", Do(verb => verb.Record(new(folder, "lead/1", Note: "x", On: "monday"))).Error, StringComparison.Ordinal);
        Assert.False(File.Exists(UnitLog.In(folder)));
    }

    [Fact]
    public void A_damaged_history_is_told_and_saved_beside()
    {
        UnitsVerb.Kept(folder, Entries.Every());
        byte[] bytes = File.ReadAllBytes(UnitLog.In(folder));
        bytes.AsSpan(0, 100).Clear();
        File.WriteAllBytes(UnitLog.In(folder), bytes);
        Call call = Do(verb => verb.List(folder));
        Assert.Equal(Exit.BadInput, call.Code);
        Assert.Contains("consort units salvage", call.Error, StringComparison.Ordinal);
        Assert.Contains("10 entries with 4 readings saved, 0 rows could not be read", Do(verb => verb.Rescue(folder, At("saved.db"))).Output, StringComparison.Ordinal);
    }
}
