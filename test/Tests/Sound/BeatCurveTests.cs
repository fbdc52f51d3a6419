using System.Collections.Immutable;
using Consort.Engine.Pitch;
using Consort.Engine.Sound.Laws;
using Consort.Engine.Sound.Playing;
using Consort.Engine.Sound.Shapes;
using Consort.Tests.Circuit;
using Xunit;

namespace Consort.Tests.Sound;

public sealed class BeatCurveTests
{
    private static SoundLaw Law(int oscillator, params (double, double)[] readings)
    {
        Oscillator one = SoundingToy.Played.Oscillators[oscillator];
        return new(one, new(one, readings), ImmutableDictionary<string, WaveLaw>.Empty, [], null);
    }

    [Theory]
    [InlineData(440, 3, 0.763122903)]
    [InlineData(1000, 1, 0.577789507)]
    [InlineData(261.6255653006, 2, 0.302416354)]
    public void Two_tones_beat_as_often_as_their_frequencies_differ(double hertz, double cents, double beats)
    {
        // f·(2^(c/1200) − 1): arithmetic; the cent is Ellis's (from memory).
        SoundLaw law = Law(0);
        HeardOscillator Heard(double moved) => HeardOscillator.Of([law], [], new("o1", "saw", 1, 0, moved));
        Expect.Within(beats, BeatCurve.At(Heard(0), Heard(cents), Math.Log2(hertz / 100)).Hertz, 1e-9);
    }

    [Fact]
    public void Every_pair_has_a_curve_from_the_laws_and_one_from_its_interval_alone()
    {
        // The second one is read 6 cents above where it should stand, and stands 4 cents up: 10 cents.
        double high = 100 * Math.Pow(2, 10 / 1200.0);
        ImmutableArray<SoundLaw> laws = [Law(0, (0, 100), (1, 200)), Law(1, (0, high), (1, 2 * high))];
        ImmutableArray<Strip> strips = [new("o1", "saw", 1, 0, 0), new("o1", "pulse", 1, 0, 0), new("o2", "saw", 1, 0, 0)];
        BeatCurve curve = Assert.Single(BeatCurve.Of(laws, strips));
        Assert.Equal(("o1", "o2"), (curve.First, curve.Second));
        Assert.Equal(13, curve.Points.Length);
        Expect.Within(100 * (Math.Pow(2, 10 / 1200.0) - 1), curve.Points[0].Hertz, 1e-9);
        Expect.Within(200 * (Math.Pow(2, 4 / 1200.0) - 1), curve.Points[^1].IdealHertz, 1e-9);
    }
}
