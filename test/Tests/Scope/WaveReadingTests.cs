using Consort.Engine.Scope;
using Consort.Tests.Circuit;
using Xunit;

namespace Consort.Tests.Scope;

/// <summary>Readings of waves whose readings can be told by hand. Definitions of IEEE Std 181 (2011), from memory.</summary>
public sealed class WaveReadingTests
{
    private static WaveReading Of(int periods, double period, params (double Share, double Volts)[] shape)
    {
        List<double> times = [], volts = [];
        for (int i = 0; i < periods; i++)
            foreach ((double share, double v) in shape)
            {
                times.Add((i + share) * period);
                volts.Add(v);
            }
        return WaveReading.Of([.. times], [.. volts]);
    }

    private static WaveReading Sampled(Func<double, double> wave, double until, int points)
    {
        double[] times = [.. Enumerable.Range(0, points + 1).Select(i => until * i / points)];
        return WaveReading.Of(times, [.. times.Select(wave)]);
    }

    [Fact]
    public void A_saw_rises_over_eight_tenths_of_its_period_and_falls_in_eight_tenths_of_its_fall()
    {
        WaveReading reading = Of(5, 1e-3, (0, -5), (0.99, 5));
        Expect.Relative(1000, reading.Hertz, 1e-9);
        Expect.Within(0.8 * 0.99e-3, reading.RiseSeconds, 1e-12);
        Expect.Within(0.8 * 0.01e-3, reading.FallSeconds, 1e-12);
        Expect.Within(0.5, reading.Duty, 1e-9);
        Expect.Within(10, reading.PeakToPeak, 1e-12);
        Expect.Within(0, reading.Mean, 1e-9);
        Expect.Within(5 / Math.Sqrt(3), reading.Rms, 1e-9);
        Assert.False(reading.Levels.HasStates);
    }

    [Fact]
    public void A_pulse_with_overshoot_is_measured_between_its_states_and_not_between_its_peaks()
    {
        // 0 V and 5 V, edges of 2 % of the period, a spike of 1 V above and below; duty at 2.5 V.
        WaveReading reading = Of(6, 1e-4, (0, 0), (0.02, 6), (0.021, 5), (0.32, 5), (0.34, -1), (0.341, 0));
        Assert.True(reading.Levels.HasStates);
        Expect.Within(0, reading.Levels.Low, 1e-9);
        Expect.Within(5, reading.Levels.High, 1e-9);
        Expect.Within(7, reading.PeakToPeak, 1e-12);
        // The edge runs from 0 to 6 V over 2 % and from 5 to −1 V: 10 to 90 % of 5 V is 4/6 of it.
        Expect.Within(0.02e-4 * 4 / 6, reading.RiseSeconds, 1e-13);
        Expect.Within(0.02e-4 * 4 / 6, reading.FallSeconds, 1e-13);
        Expect.Within(0.32 + 0.02 * 2.5 / 6 - 0.02 * 2.5 / 6, reading.Duty, 1e-9);
    }

    [Fact]
    public void An_exponential_rise_lasts_ln_9_time_constants()
    {
        // 1 − exp(−t/τ) passes 10 % at 0.10536 τ and 90 % at 2.30259 τ: τ·ln 9 (any text on pulse circuits).
        WaveReading reading = Sampled(t => t < 1e-6 ? 0 : 1 - Math.Exp(-(t - 1e-6) / 1e-6), 40e-6, 400_000);
        Expect.Relative(1e-6 * Math.Log(9), reading.RiseSeconds, 2e-3); // the state is the mean of three bins of 1/200 of the height
        Assert.Equal(0, reading.Periods);
        Assert.Null(reading.Harmonics);
    }

    [Fact]
    public void A_sine_has_its_root_mean_square_its_offset_and_its_third_harmonic()
    {
        WaveReading reading = Sampled(t => 0.5 + 2 * Math.Sin(2 * Math.PI * 440 * t) + 0.02 * Math.Sin(6 * Math.PI * 440 * t), 10.3 / 440, 20_000);
        Expect.Relative(440, reading.Hertz, 1e-7);
        Assert.Equal(9, reading.Periods);
        Expect.Within(0.5, reading.Mean, 1e-6);
        Expect.Within(Math.Sqrt(0.25 + 2 + 0.0002), reading.Rms, 1e-5);
        Expect.Within(0.01, reading.Harmonics!.Distortion, 1e-6);
        Expect.Within(-40, reading.Harmonics.Db(3), 1e-3);
    }

    [Fact]
    public void A_ripple_about_the_middle_is_no_second_period()
    {
        WaveReading reading = Sampled(t => Math.Sin(2 * Math.PI * 100 * t) + 0.05 * Math.Sin(2 * Math.PI * 4000 * t), 0.055, 40_000);
        Expect.Relative(100, reading.Hertz, 2e-3);
    }

    [Fact]
    public void A_still_voltage_has_a_mean_and_nothing_else()
    {
        WaveReading reading = WaveReading.Of([0, 1, 2], [2.5, 2.5, 2.5]);
        Assert.Equal(2.5, reading.Mean);
        Assert.Equal(0, reading.Periods);
        Assert.True(double.IsNaN(reading.Hertz) && double.IsNaN(reading.RiseSeconds));
    }

    [Fact]
    public void Periods_that_differ_say_by_how_much()
    {
        WaveReading reading = WaveReading.Of([0, 1, 1, 1.5, 1.5, 2, 2, 2.5, 2.5, 3.1, 3.1, 4], [-1, -1, 1, 1, -1, -1, 1, 1, -1, -1, 1, 1]);
        Assert.Equal(2, reading.Periods);
        Expect.Within(1.05, 1 / reading.Hertz, 1e-12);
        Expect.Within(0.05 / 1.05, reading.Unsteadiness, 1e-12);
    }
}
