using System.Text.Json;
using Consort.Cli;
using Consort.Cli.Verbs;
using Consort.Engine.Bench.History;
using Consort.Engine.Bench.Readings;
using Consort.Engine.Design;
using Consort.Tests.Measuring.History;
using Consort.Tests.Measuring.Readings;
using Consort.Tests.Measuring.Sync;
using Consort.Tests.Pitch;
using Xunit;

namespace Consort.Tests.Cli;

public sealed class MeasureVerbTests
{
    private static readonly Voice Toy = ToyVoice.OnMultiple(2, ToyVoice.Oscillator("toy", "100k"));

    private static string Sox(string name) => Path.Combine(Golden.Root, "test", "Reference", "sox", name);

    private static Call Measure(string unit, string[] files, ReadingOptions options, bool json = false, string? member = null)
    {
        (Screen screen, StringWriter output, StringWriter error) = Call.Paper();
        int code = new MeasureVerb(screen, _ => (Toy, []), TimeProvider.System).Run(new(new("toy", unit, [.. files], options, member), json));
        string root = Golden.Root.Replace('\\', '/') + "/";
        return new(code, output.ToString().Replace(root, "", StringComparison.Ordinal), error.ToString().Replace(root, "", StringComparison.Ordinal));
    }

    // The law is 1 Hz at 0 V: 65.406391 Hz stands at 6.031 V.
    private static readonly double[] Octaves = [.. Enumerable.Range(0, 5).Select(i => Math.Log2(65.406391) + i)];

    [Fact]
    public void The_tables_of_a_recording_read_as_kept() =>
        Golden.Same("cli/measure.txt", Measure("toy/0001", [Sox("octaves-44100.wav")], new() { Controls = Octaves, Kelvin = 296.15, ControlWithin = 2e-4, FullScaleVolts = 12 }).ToString());

    [Fact]
    public void The_table_of_a_pair_reads_as_kept() =>
        Golden.Same("cli/measure-pair.txt", Measure("toy/0001", [Sox("pair-and-other.wav")], new() { Controls = [9.78], Pair = true }).ToString());

    [Fact]
    public void Every_name_of_the_json_stands_in_its_page()
    {
        JsonPage.Names(Json(Measure("toy/0001", [Sox("octaves-44100.wav")], new() { Controls = Octaves }, json: true)));
        JsonElement pair = Json(Measure("toy/0001", [Sox("pair-and-other.wav")], new() { Controls = [9.78], Pair = true }, json: true));
        JsonPage.Names(pair);
        Assert.Equal(2.035608, pair.GetProperty("readings")[0].GetProperty("note").GetProperty("pair").GetProperty("beatHertz").GetDouble(), 1e-4);
    }

    [Fact]
    public void A_sweep_under_sync_is_told_in_a_table_and_in_json()
    {
        string folder = Directory.CreateTempSubdirectory("consort-sync").FullName;
        SweptPair pair = SweptPair.Drawn(_ => 220, SweptPair.Sweep(220, -60, 60, 24), 24, reach: 20, noise: 0);
        string synced = Path.Combine(folder, "synced.wav"), free = Path.Combine(folder, "free.wav");
        File.WriteAllBytes(synced, WrittenWav.Bytes([pair.Follower.Samples, pair.Lead.Samples], 16000));
        File.WriteAllBytes(free, WrittenWav.Bytes([pair.Free.Samples], 16000));
        ReadingOptions options = new() { Sync = new(2, free) };
        Call call = Measure("toy/0001", [synced], options);
        Assert.Equal(Exit.Done, call.Code);
        Assert.Contains("from -60.", call.Output, StringComparison.Ordinal);
        JsonElement document = Json(Measure("toy/0001", [synced], options, json: true));
        JsonPage.Names(document);
        JsonElement hold = Assert.Single(document.GetProperty("syncs").EnumerateArray().ToArray()).GetProperty("holds")[0];
        Assert.Equal(20, hold.GetProperty("sharpCents").GetDouble(), 1.5);
        new MeasureVerb(Call.Paper().Screen, _ => (Toy, []), TimeProvider.System).Run(new(new(folder, "toy/0001", [synced], options), Record: true, Occasion: "as built"));
        SyncEntry kept = Assert.IsType<SyncEntry>(Assert.Single(Entries.Read(UnitLog.In(folder)))); // and no sitting without readings
        Assert.Equal((hold.GetProperty("sharpCents").GetDouble(), "as built"), (kept.Hold!.Sharp.Cents, kept.Occasion));
        Call none = Measure("toy/0001", [free], options);
        Assert.Equal(Exit.BadInput, none.Code);
        Assert.Contains("C301", none.Error, StringComparison.Ordinal);
        Directory.Delete(folder, recursive: true);
    }

    [Fact]
    public void A_unit_of_no_module_and_a_member_of_another_are_bad_input_with_the_near_name()
    {
        Call call = Measure("toi/0001", [], new());
        Assert.Equal(Exit.BadInput, call.Code);
        Assert.Contains("did you mean 'toy'?", call.Error, StringComparison.Ordinal);
        Assert.Contains("did you mean 'o1'?", Measure("toy/0001", [], new(), member: "o3").Error, StringComparison.Ordinal);
        Assert.Contains("write it as toy/0001", Measure("0001", [], new()).Error, StringComparison.Ordinal);
    }

    [Fact]
    public void A_recording_that_is_not_there_is_bad_input_and_prints_nothing()
    {
        Call call = Measure("toy/0001", ["nowhere.wav", "neither.csv"], new());
        Assert.Equal(Exit.BadInput, call.Code);
        Assert.Empty(call.Output);
        Assert.Contains("nowhere.wav: error C002", call.Error, StringComparison.Ordinal);
        Assert.Contains("neither.csv: error C002", call.Error, StringComparison.Ordinal);
    }

    private static JsonElement Json(Call call) => JsonDocument.Parse(call.Output).RootElement;
}
