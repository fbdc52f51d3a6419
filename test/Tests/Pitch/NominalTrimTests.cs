using Consort.Engine.Design;
using Consort.Engine.Pitch;
using Xunit;

namespace Consort.Tests.Pitch;

public sealed class NominalTrimTests
{
    // A divider by hand: the law sees 1.25·s·V with s the trimmer's share, so 1 V an octave asks for s = 0.8.
    private static string Trimmed(string range) =>
        ToyVoice.Oscillator(
            "toy",
            "1M",
            "trims:\n  - {trimmer: RV1, for: tracking, low: 0 V, high: 3 V}",
            $"RV1: {{trimmer: {range}, turns: 20, position: 50%, ccw: 0 V, wiper: scaled, cw: in}}",
            "1.25"
        );

    [Fact]
    public void A_tracking_trimmer_comes_to_stand_where_arithmetic_says()
    {
        (TrimResult trim, double[] cents) = Trim(Trimmed("100k"));
        // 1 kΩ of source into the trimmer and 1 MΩ beside it takes 1.0909 %: s = 0.8·(1 + 1 kΩ/(100 kΩ ∥ 1 MΩ)).
        Assert.Equal(0.8 * (1 + 1 / (100.0 * 1000 / 1100)), trim.Position, 2e-4);
        Assert.True(trim.Reached);
        Assert.Equal(cents[0], cents[1], 0.02);
    }

    [Fact]
    public void A_trimmer_that_runs_out_says_so_and_stays_at_its_end()
    {
        string module = ToyVoice.Oscillator(
            "toy",
            "1M",
            "trims:\n  - {trimmer: RV1, for: tracking, low: 0 V, high: 3 V}",
            "RV1: {trimmer: 100k, turns: 20, position: 50%, ccw: 0 V, wiper: scaled, cw: in}",
            "0.9"
        );
        (TrimResult trim, _) = Trim(module);
        Assert.Equal(1, trim.Position, 2e-4);
        Assert.False(trim.Reached);
    }

    private static (TrimResult Trim, double[] Cents) Trim(string module)
    {
        Voice read = ToyVoice.OnMultiple(1, module);
        PlayedVoice voice = PlayedVoice.Of(read);
        Assert.Null(voice.Prepare());
        SoloOscillator solo = new(voice, voice.Oscillators[0]);
        Assert.Null(solo.Prepare(2));
        (System.Collections.Immutable.ImmutableArray<TrimResult> results, Engine.Circuit.SolveFailure? failure) =
            new NominalTrim(voice, solo).Run();
        Assert.Null(failure);
        double[] cents = [.. ((double[])[0, 3]).Select(v => solo.Oscillator.Cents(v, solo.Read(v).Hertz))];
        return (Assert.Single(results), cents);
    }
}
