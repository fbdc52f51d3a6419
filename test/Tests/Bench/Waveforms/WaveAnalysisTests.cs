using Consort.Engine.Bench.Tones;
using Consort.Engine.Bench.Waveforms;
using Consort.Tests.Measuring.Tones;
using Xunit;

namespace Consort.Tests.Measuring.Waveforms;

public sealed class WaveAnalysisTests
{
    private static WaveReading Read(MadeTone tone, double? volts = null) =>
        WaveAnalysis.Of(ToneEstimator.One(tone.Samples, 48000).Reading!, volts)!;

    private static MadeTone Made(double hertz, Func<int, double> size, Func<int, double> phase, double noise = 1e-3, int seed = 1)
    {
        MadeTone tone = new(seed, 24000);
        for (int k = 1; k <= tone.Harmonics("saw", hertz); k++)
            tone.AddOne(k, hertz, Math.Abs(size(k)), phase(k) + (size(k) < 0 ? Math.PI / k : 0));
        return tone.Noise(noise);
    }

    // MadeTone's partial is size·sin(k·(ωt + phase)): π/2k makes it a cosine, so that the pulse stands about t = 0.
    private static MadeTone Pulse(double hertz, double duty, double noise = 1e-3, int seed = 1) =>
        Made(hertz, k => 2 * Math.Sin(Math.PI * k * duty) / (Math.PI * k), k => Math.PI / 2 / k, noise, seed);

    [Theory]
    [InlineData(0.5)]
    [InlineData(0.25)]
    [InlineData(0.1)]
    [InlineData(0.02)]
    [InlineData(0.73)]
    [InlineData(0.95)]
    public void The_duty_of_a_pulse_is_read_to_a_hundredth_of_a_percent(double duty)
    {
        WaveReading reading = Read(Pulse(220.3, duty));
        Assert.Equal(WaveShape.Pulse, reading.Shape);
        Assert.Equal(duty, reading.Duty!.Value, 1e-4);
        Assert.Equal(1, reading.PeakToPeak, 2e-3);
        Assert.Null(reading.Rising);
    }

    [Theory]
    [InlineData(0.5)]
    [InlineData(0.3)]
    [InlineData(0.9)]
    [InlineData(0.06)]
    public void The_slopes_of_a_triangle_are_told_apart(double rising)
    {
        // A wave that rises for s and falls for 1 − s, 1 from peak to peak: sin πks/(π²k²s(1 − s)), phases from its corners.
        WaveReading reading = Read(Made(
            220.3,
            k => Math.Sin(Math.PI * k * rising) / (Math.PI * Math.PI * k * k * rising * (1 - rising)),
            _ => 0));
        Assert.Equal(WaveShape.Triangle, reading.Shape);
        Assert.Equal(rising, reading.Rising!.Value, 2e-3);
        Assert.Equal(1, reading.PeakToPeak, 2e-3);
    }

    [Fact]
    public void A_saw_is_called_one_whichever_way_it_runs()
    {
        WaveReading falling = Read(new MadeTone(2, 24000).Add("saw", 131).Noise(1e-3));
        WaveReading rising = Read(new MadeTone(2, 24000).Add("saw", 131, -1).Noise(1e-3));
        Assert.Equal((WaveShape.Saw, WaveShape.Saw), (falling.Shape, rising.Shape));
        Assert.InRange(falling.Rising!.Value, 0, 0.005);
        Assert.InRange(rising.Rising!.Value, 0.995, 1);
        Assert.Equal(2, rising.PeakToPeak, 0.01);
    }

    [Fact]
    public void Distortion_is_that_of_the_standard()
    {
        // IEC 60268-3: third harmonic at −40 dB and fifth at −50 dB make 1.04880884817 %.
        MadeTone tone = new MadeTone(3, 48000).AddOne(1, 440.2, 0.5, 0.3).AddOne(3, 440.2, 0.005, 1.1).AddOne(5, 440.2, 0.5 * Math.Pow(10, -2.5), 0.2).Noise(1e-5);
        WaveReading reading = Read(tone);
        Assert.Equal(WaveShape.Sine, reading.Shape);
        Assert.Equal(0.0104880884817, reading.Distortion, 1e-6);
        Assert.Equal(5, reading.Harmonics);
    }

    [Fact]
    public void A_saws_distortion_up_to_its_tenth_harmonic_is_the_closed_sum()
    {
        // Harmonics 2 to 10 of 1/k: 74.1463236558 % (sum of 1/k²).
        MadeTone tone = new(4, 48000);
        for (int k = 1; k <= 10; k++)
            tone.AddOne(k, 330.7, 2 / (Math.PI * k), 0.1);
        Assert.Equal(0.741463236558, Read(tone.Noise(1e-5)).Distortion, 1e-5);
    }

    [Fact]
    public void Levels_are_in_volts_when_full_scale_is_known()
    {
        // +4 dBu is 1.22765298799 V r.m.s. (IEC 60268): a sine of 0.5 of a full scale of 3.47232702 V.
        WaveReading reading = Read(new MadeTone(5, 24000).AddOne(1, 997, 0.5, 0.2).Noise(1e-5), 3.47232702);
        Assert.Equal(1.22765298799, reading.Rms, 1e-5);
        Assert.Equal(2 * Math.Sqrt(2) * 1.22765298799, reading.PeakToPeak, 1e-4);
        Assert.True(reading.InVolts);
    }

    [Fact]
    public void A_coupling_capacitor_moves_the_duty_of_a_low_pulse_by_less_than_half_a_percent()
    {
        // 5 Hz of high pass (common practice, no source) on 65 Hz: sizes change by 0.3 %, phases by 4°.
        double Through(int k) => 1 / Math.Sqrt(1 + Math.Pow(5 / (65.4 * k), 2));
        WaveReading reading = Read(Made(
            65.4,
            k => Through(k) * 2 * Math.Sin(Math.PI * k * 0.3) / (Math.PI * k),
            k => (Math.PI / 2 + Math.Atan(5 / (65.4 * k))) / k));
        Assert.Equal(WaveShape.Pulse, reading.Shape);
        Assert.Equal(0.3, reading.Duty!.Value, 5e-3);
    }
}
