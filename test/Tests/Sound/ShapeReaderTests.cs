using Consort.Engine.Sound.Corners;
using Consort.Engine.Sound.Shapes;
using Consort.Engine.Sound.Spectra;
using Consort.Tests.Circuit;
using Xunit;

namespace Consort.Tests.Sound;

public sealed class ShapeReaderTests
{
    // A saw with an exponential reset of 3 µs, sampled finely where it moves; as a circuit's run would give it.
    private static (double[] Times, double[] Volts) Saw(double hertz)
    {
        double period = 1 / hertz;
        List<double> times = [], volts = [];
        for (int i = 0; i <= 60; i++)
            Add(i * 0.1e-6, -5 + 10 * Math.Exp(-i * 0.1e-6 / 0.6e-6));
        double low = volts[^1];
        for (int i = 1; i <= 200; i++)
            Add(6e-6 + (period - 6e-6) * i / 200, low + (5 - low) * (i / 200.0 + 0.02 * Math.Sin(2 * Math.PI * i / 200.0)));
        return ([.. times], [.. volts]);

        void Add(double time, double value)
        {
            times.Add(time);
            volts.Add(value);
        }
    }

    [Theory]
    [InlineData(110.3)]
    [InlineData(1234.5)]
    [InlineData(4999.773)]
    public void A_shape_sounds_with_the_harmonics_of_the_wave_that_it_was_read_from(double hertz)
    {
        (double[] times, double[] volts) = Saw(hertz);
        HarmonicReading wave = HarmonicReading.OfPeriod(times, volts, 200);
        double[] sound = Rendered.Steady(ShapeReader.Read(times, volts, 24_000), hertz, 96_000);
        int count = (int)(19_000 / hertz); // the pass band ends higher
        HarmonicReading heard = HarmonicReading.OfSamples(sound, Rendered.Rate, hertz, count, Window.Deep);
        for (int k = 1; k <= Math.Min(count, 150); k++)
            Expect.Within(wave.Amplitude(k), heard.Amplitude(k), 2e-4); // of 10 V: −94 dB
        Expect.Within(wave.Mean, heard.Mean, 1e-4);
        Assert.True(AliasFloor.Of(sound, Rendered.Rate, hertz, Window.Deep).Db < -90);
    }

    [Fact]
    public void A_sine_has_no_corners_and_a_saw_few()
    {
        double[] times = [.. Enumerable.Range(0, 301).Select(i => i / 300.0)];
        WaveShape sine = ShapeReader.Read(times, [.. times.Select(t => Math.Sin(2 * Math.PI * t))], 20_000);
        Assert.Equal(0, sine.SkeletonAt(0.3), 1e-9);
        (double[] t, double[] v) = Saw(440);
        Assert.InRange(ShapeReader.Read(t, v, 20_000).Phases.Length, 3, 16);
    }

    [Fact]
    public void The_partial_sums_of_a_square_overshoot_as_Gibbs_says()
    {
        // (2/π)·Si(π) = 1.17897974447 (Hewitt and Hewitt, Arch. Hist. Exact Sci. 21 (1979) 129); n terms are off by 1/n².
        SmoothTable square = SmoothTable.Of(Enumerable.Range(1, 601).Select(k => k % 2 == 0 ? 0 : new System.Numerics.Complex(0, -4 / (Math.PI * k))));
        Expect.Within(1.17897974447, square.At(1 / 1204.0), 1e-5);
    }

    [Fact]
    public void A_triangle_is_kept_by_its_two_corners()
    {
        double[] times = [.. Enumerable.Range(0, 401).Select(i => i / 400.0)];
        WaveShape shape = ShapeReader.Read(times, [.. times.Select(t => 1 - 4 * Math.Abs(t - 0.5))], 20_000);
        Assert.Equal(2, shape.Phases.Length);
        double[] sound = Rendered.Steady(shape, 3310.17, 48_000, CornerKernel.Standard);
        Assert.True(AliasFloor.Of(sound, Rendered.Rate, 3310.17, Window.Deep).Db < -90);
    }
}
