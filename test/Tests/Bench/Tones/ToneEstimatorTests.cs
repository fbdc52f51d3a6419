using Consort.Engine.Bench.Tones;
using Xunit;

namespace Consort.Tests.Measuring.Tones;

public sealed class ToneEstimatorTests
{
    [Theory]
    [InlineData("sine")]
    [InlineData("triangle")]
    [InlineData("saw")]
    [InlineData("pulse")]
    public void Every_octave_of_every_shape_is_read_at_its_own_octave(string shape)
    {
        foreach (double hertz in new[] { 20.6, 32.703, 65.41, 131, 262, 523, 1046, 2093, 4186, 8372, 12543 })
        {
            MadeTone tone = new MadeTone(3, 24000).Add(shape, hertz).Noise(0.003);
            (ToneReading? reading, _) = ToneEstimator.One(tone.Samples, 48000);
            Assert.NotNull(reading);
            Assert.True(Math.Abs(reading.Frequency.Value - hertz) < 5 * reading.Uncertainty, $"{shape} {hertz}: {reading}");
            Assert.InRange(reading.Uncertainty, 0, 0.01);
        }
    }

    [Fact]
    public void Loud_hum_is_told_apart_and_does_not_pull_the_note()
    {
        MadeTone tone = new MadeTone(4, 48000).Add("saw", 73.2).Hum(50.08).Noise(0.001);
        (ToneReading? reading, _) = ToneEstimator.One(tone.Samples, 48000);
        Assert.Equal(73.2, reading!.Frequency.Value, 5 * reading.Uncertainty);
        // Made of 0.1, 0.05 and 0.07 of the note's own level: 10·log(0.01 + 0.0025 + 0.0049).
        Assert.Equal(10 * Math.Log10(0.0174), reading.HumShare!.Value, 0.1);
        (ToneReading? unaware, _) = ToneEstimator.One(tone.Samples, 48000, Mains.None);
        Assert.Null(unaware!.HumShare);
        Assert.True(unaware.Uncertainty > 3 * reading.Uncertainty);
    }

    [Fact]
    public void A_clean_recording_shows_no_hum()
    {
        (ToneReading? reading, _) = ToneEstimator.One(new MadeTone(6, 24000).Add("pulse", 220).Noise(0.01).Samples, 48000);
        Assert.Null(reading!.HumShare);
        Assert.InRange(reading.Excess, 1, 1.6); // χ² of 14: one in a thousand is above 1.6²
    }

    [Fact]
    public void A_note_that_drifts_says_how_far_and_owns_to_more_uncertainty()
    {
        // 0.2 Hz over a second at 440 Hz: 0.787 cent.
        (ToneReading? reading, _) = ToneEstimator.One(new MadeTone(7, 48000).Add("sine", 440, slide: 0.2).Noise(0.001).Samples, 48000);
        Assert.Equal(1200 * Math.Log2(1 + 0.2 / 440), reading!.DriftCents, 0.02);
        Assert.True(reading.Excess > 10);
        Assert.Equal(440, reading.Frequency.Value, 3 * reading.Uncertainty);
    }

    [Fact]
    public void The_beat_of_two_oscillators_is_read_with_its_interval()
    {
        // 1 cent at 1000 Hz beats at 0.577789507 Hz (definition of the cent).
        MadeTone tone = new MadeTone(8, 96000).Add("saw", 1000).Add("saw", 1000.577789507, 0.8).Noise(0.002);
        (PairReading? reading, _) = ToneEstimator.Pair(tone.Samples, 48000);
        Assert.Equal(0.577789507, reading!.Beat.Value, 5 * reading.BeatUncertainty);
        Assert.Equal(1, reading.Interval.Value, 0.001);
        Assert.InRange(reading.BeatUncertainty, 0, 1e-4);
    }

    [Theory]
    [InlineData("sine")]
    [InlineData("saw")]
    [InlineData("pulse")]
    public void One_oscillator_is_no_pair(string shape)
    {
        for (int seed = 20; seed < 25; seed++)
            Assert.Null(ToneEstimator.Pair(new MadeTone(seed, 12000).Add(shape, 440).Noise(0.01).Samples, 48000).Reading);
    }

    [Fact]
    public void Noise_is_no_note_and_neither_is_silence()
    {
        Assert.Null(ToneEstimator.One(new MadeTone(10, 24000).Noise(0.1).Samples, 48000).Reading);
        Assert.Null(ToneEstimator.One(new double[24000], 48000).Reading);
        Assert.Null(ToneEstimator.One([], 48000).Reading);
    }

    [Fact]
    public void A_perfect_recording_is_no_better_than_its_steps()
    {
        double[] exact = [.. Enumerable.Range(0, 48000).Select(i => Math.Round(16384 * Math.Sin(2 * Math.PI * 1000 * i / 48000.0)) / 32768)];
        (ToneReading? reading, _) = ToneEstimator.One(exact, 48000, step: 1 / 32768.0);
        // Kay's bound for σ = step/√12 and A = 0.5; the amplitude of rounding's own harmonics may add a little.
        double bound = Math.Sqrt(24.0 / (0.25 * 48000 * (48000.0 * 48000 - 1)) / 12) / 32768 * 48000 / (2 * Math.PI);
        Assert.Equal(1, reading!.Uncertainty / bound, 0.1);
    }
}
