using System.Collections.Immutable;
using Consort.Engine.Sound.Corners;
using Consort.Engine.Sound.Laws;
using Consort.Engine.Sound.Oscillators;
using Consort.Engine.Sound.Playing;
using Consort.Engine.Sound.Shapes;
using Consort.Tests.Circuit;
using Xunit;

namespace Consort.Tests.Sound;

public sealed class PlayedOscillatorTests
{
    private const int Rate = 48_000;
    private const int Count = 6000;

    private static SoundLaw Law(int oscillator, SyncLaw? sync) =>
        new(SoundingToy.Played.Oscillators[oscillator], new(SoundingToy.Played.Oscillators[oscillator], []), ImmutableDictionary<string, WaveLaw>.Empty.Add("out", WaveLaw.Of(WaveShape.Saw)), [], sync);

    // The follower's wave in blocks of those lengths, one after the other and again.
    private static double[] Play(double lagSamples, params int[] lengths)
    {
        SyncLaw sync = SyncLaw.Reset() with { Delay = 0.3 / Rate, Lags = ImmutableDictionary<string, double>.Empty.Add("out", lagSamples / Rate) };
        PlayedOscillator lead = PlayedOscillator.Turning(Law(0, null), 0, Rate, 2, 0);
        PlayedOscillator follower = new(Law(1, sync), new("o2", "out", 1, 0, 700), Rate, CornerKernel.Standard, 2, 0);
        double[] scrap = new double[SoundOscillator.Block], wave = new double[Count];
        for (int at = 0, block = 0; at < Count; block++)
        {
            int length = Math.Min(lengths[block % lengths.Length], Count - at);
            lead.Render([2], [], [], scrap.AsSpan(0, length));
            follower.Render([2], [], lead.Turns, wave.AsSpan(at, length));
            at += length;
        }
        return wave;
    }

    [Theory]
    [InlineData(0.7)]
    [InlineData(55.3)] // more than a short block
    [InlineData(131)] // more than one of the lead's periods
    public void A_pull_that_comes_late_is_carried_over_the_ends_of_blocks(double lagSamples)
    {
        double[] whole = Play(lagSamples, 256);
        // Residuals are summed in single precision, in another order.
        foreach (int[] lengths in (int[][])[[37], [1], [256, 3, 100]])
            foreach ((double one, double other) in whole.Zip(Play(lagSamples, lengths)))
                Expect.Within(one, other, 2e-6);
        // The lag is heard: the same wave without it is another.
        Assert.True(whole.Zip(Play(0, 256)).Max(pair => Math.Abs(pair.First - pair.Second)) > 0.1);
    }
}
