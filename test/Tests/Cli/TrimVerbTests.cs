using System.Text.Json;
using Consort.Cli;
using Consort.Cli.Verbs;
using Consort.Engine.Design;
using Consort.Tests.Pitch;
using Xunit;

namespace Consort.Tests.Cli;

public sealed class TrimVerbTests
{
    private const string Trims = "trims:\n  - {trimmer: RV1, for: tracking, low: 0 V, high: 3 V}";
    private const string Trimmer = "RV1: {trimmer: 100k, turns: 20, position: 50%, ccw: 0 V, wiper: scaled, cw: in}";
    private static readonly Voice Toy = ToyVoice.OnMultiple(1, ToyVoice.Oscillator("toy", "1M", Trims, Trimmer, "1.25"));
    private static readonly Voice Untrimmed = ToyVoice.OnMultiple(1, ToyVoice.Oscillator("toy", "1M"));

    private static Call Trim(Voice voice, string readings, bool json = false)
    {
        string file = Path.GetTempFileName() + ".csv";
        File.WriteAllText(file, readings);
        try
        {
            (Screen screen, StringWriter output, StringWriter error) = Call.Paper();
            int code = new TrimVerb(screen, _ => (voice, Stock.Empty, [])).Run(new(new("toy", "toy/0001", [file], new()), json));
            return new(code, output.ToString(), error.ToString());
        }
        finally
        {
            File.Delete(file);
        }
    }

    // Twenty cents flat an octave.
    private static readonly string Flat = "control voltage (V),frequency (Hz)\n"
        + string.Concat(Enumerable.Range(0, 5).Select(i => $"{i},{Math.Pow(2, i * (1 - 20.0 / 1200)):0.000000}\n"));

    [Fact]
    public void A_flat_unit_is_told_to_turn_its_tracking_up_and_where_to_stop()
    {
        Call call = Trim(Toy, Flat, json: true);
        JsonElement answer = JsonDocument.Parse(call.Output).RootElement;
        JsonPage.Names(answer);
        JsonElement turn = Assert.Single(answer.GetProperty("turns").EnumerateArray());
        // The law sees 1.25·s·V: 20 cents in 1200 of a scale near 1 are 0.8·20/1200 of the travel, 0.27 turn of twenty.
        Assert.Equal(0.27, turn.GetProperty("turnsClockwise").GetDouble(), 0.02);
        Assert.Equal(8, turn.GetProperty("aimHertz").GetDouble(), 0.01); // 3 V
        Assert.Equal(Exit.Done, call.Code);
    }

    [Fact]
    public void A_module_without_trims_has_nothing_to_turn()
    {
        Call call = Trim(Untrimmed, Flat);
        Assert.Equal(Exit.NotComputed, call.Code);
        Assert.Contains("has no trim that sets pitch", call.Error, StringComparison.Ordinal);
        Assert.Contains("mend:", call.Error, StringComparison.Ordinal);
    }
}
