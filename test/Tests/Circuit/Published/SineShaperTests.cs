using Consort.Engine.Circuit;
using Consort.Engine.Circuit.Motion;
using Xunit;

namespace Consort.Tests.Circuit.Published;

/// <summary>
/// A differential pair bends a triangle to a sine: Meyer, Sansen, Lui, Peeters, IEEE JSSC SC-11(3), June 1976, 418-420
/// (citation and circuit confirmed; figures worked out for ideal transistors, as the paper's 0.2 % is a measurement).
/// Harmonics by Simpson's sum over one period, whose corners are points of it.
/// </summary>
public sealed class SineShaperTests
{
    private const int Points = 1024;
    private const double Tail = 1e-3; // A, each of two
    private static readonly double VT = Constants.ThermalVoltage(Constants.ReferenceTemperature);

    private static Bench Pair(double degeneration, double peak)
    {
        Bench bench = new(
            """
            circuit:
              V1: {voltage source: 50 mV, before: -50 mV, starts: 0 s, rise: 0.5 ms, lasts: 0.5 ms, every: 1 ms, plus: in, minus: 0 V}
              V2: {voltage source: 5 V, plus: +5 V, minus: 0 V}
              R1: {resistor: 500R, from: +5 V, to: left}
              R2: {resistor: 500R, from: +5 V, to: right}
              Q1: {npn: ideal, collector: left, base: in, emitter: left emitter, forward gain: 1e12, saturation current: 1e-16 A}
              Q2: {npn: ideal, collector: right, base: 0 V, emitter: right emitter, forward gain: 1e12, saturation current: 1e-16 A}
              R3: {resistor: 1R, from: left emitter, to: right emitter}
              I1: {current source: 1 mA, from: left emitter, to: 0 V}
              I2: {current source: 1 mA, from: right emitter, to: 0 V}
            """
        );
        return bench
            .With("R3", "value", Math.Max(degeneration * VT / Tail, 1e-7))
            .With("V1", "value", peak * VT)
            .With("V1", "before", -peak * VT);
    }

    /// <summary>The share of the tails that the pair tips over, at even times through one period.</summary>
    private static double[] Period(Bench bench)
    {
        Transient run = bench.Start(Accuracy.Strict(1e-10, 1e-10)); // nothing stores charge: this is Newton's tolerance
        double[] wave = new double[Points];
        int left = bench.Circuit.Net("left");
        int right = bench.Circuit.Net("right");
        for (int i = 0; i < Points; i++)
        {
            Bench.Run(run, (double)i / Points * 1e-3);
            wave[i] = (run.X[right] - run.X[left]) / (2 * Tail * 500);
        }
        return wave;
    }

    private static double Harmonic(double[] wave, int k)
    {
        double sum = 0;
        for (int i = 0; i < Points; i++)
            sum += Weight(i) * wave[i] * Math.Sin(2 * Math.PI * k * ((double)i / Points - 0.25)); // rises through zero there
        return 2 * sum / Points;
    }

    private static double Weight(int i) => i % 2 == 0 ? 2.0 / 3 : 4.0 / 3;

    private static double Distortion(double degeneration, double peak)
    {
        double[] wave = Period(Pair(degeneration, peak));
        double first = Harmonic(wave, 1);
        double square = wave.Select((value, i) => Weight(i) * value * value).Sum() / Points;
        return 100 * Math.Sqrt(square - first * first / 2) / (first / Math.Sqrt(2));
    }

    [Fact]
    public void Without_degeneration_3_VT_of_peak_leave_1_80_percent()
    {
        double[] wave = Period(Pair(0, 3));
        Expect.Within(1.343467, 100 * Harmonic(wave, 3) / Harmonic(wave, 1), 1e-6);
        Expect.Within(1.010223, 100 * Harmonic(wave, 5) / Harmonic(wave, 1), 1e-6);
        Expect.Within(1.7975496, Distortion(0, 3), 1e-6);
    }

    [Fact]
    public void Without_degeneration_the_least_distortion_is_1_36_percent_at_2_804_VT()
    {
        double least = Distortion(0, 2.80421381);
        Expect.Within(1.3594303, least, 1e-6);
        Assert.True(Distortion(0, 2.80421381 * 0.995) > least);
        Assert.True(Distortion(0, 2.80421381 * 1.005) > least);
    }

    [Theory]
    [InlineData(2.5607, 6.8720, 0.26290)]
    [InlineData(2.5, 6.7775, 0.26410)]
    [InlineData(2.5, 6.6, 0.68498)]
    public void Emitter_resistance_brings_the_distortion_down_to_0_26_percent(double degeneration, double peak, double percent)
    {
        // Within 1e-5: the digits given. The last row shows how sharp the optimum is.
        Expect.Within(percent, Distortion(degeneration, peak), 1e-5);
    }

    [Fact]
    public void No_neighbour_of_the_published_optimum_distorts_less()
    {
        double least = Distortion(2.5607, 6.8720);
        foreach ((double r, double v) in (ReadOnlySpan<(double, double)>)[(1.01, 1), (0.99, 1), (1, 1.002), (1, 0.998)])
            Assert.True(Distortion(2.5607 * r, 6.8720 * v) > least, $"{r}, {v}");
    }

    [Fact]
    public void Matching_the_power_series_of_arcsine_is_not_the_least_distortion()
    {
        // Section II of the paper: IR = VT, Vm = (π/2)·4·0.75^1.5·VT = 4.081 VT. Derivation and figures redone.
        const double Peak = 4.081;
        double[] wave = Period(Pair(1, Peak));
        Expect.Within(0.88071793, Harmonic(wave, 1), 1e-8);
        Expect.Within(-1.30527, 100 * Harmonic(wave, 3) / Harmonic(wave, 1), 1e-5);
        Expect.Within(1.70250, Distortion(1, Peak), 1e-5);
        Assert.True(Distortion(1, Peak * 1.02) < 1.70250);
    }
}
