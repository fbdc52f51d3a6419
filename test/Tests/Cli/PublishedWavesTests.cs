using System.Text.Json;
using Consort.Cli;
using Consort.Cli.Verbs;
using Consort.Engine.Circuit;
using Consort.Engine.Design;
using Consort.Tests.Circuit;
using Consort.Tests.Pitch;
using Xunit;

namespace Consort.Tests.Cli;

/// <summary>
/// Waves whose Fourier series or spectra are published, made by a circuit and read off what the scope prints. What the scope
/// adds to the exact figures: its 300 points a period, whose straight lines take (2πk/300)²/12 off harmonic k of a bent wave;
/// two microseconds of a second in which the core resets; and that its run follows a net of 11.5 V to some 1e-5 V.
/// </summary>
public sealed class PublishedWavesTests
{
    private const double Reset = 5e-6;

    // One saw of 1 Hz, 0 to 5 V, and what laws and comparators make of it.
    private static Voice Waves(string more) =>
        ToyVoice.OnMultiple(1, ToyVoice.Oscillator("toy", "100k").Replace("V1: {voltage source: 5 V", "V1: {voltage source: 4.9 V", StringComparison.Ordinal) + "\n" + more);

    private static string Source(string net, string source) =>
        $$"""
          V{{net}}: {voltage source: {{source}}, plus: {{net}}, minus: 0 V}
          R{{net}}: {resistor: 10k, from: {{net}}, to: 0 V}

        """;

    // Of 1 Hz, its corners where the run steps.
    private static string Triangle(string net, double peak) =>
        Source(net, $"{peak:R} V, before: {-peak:R} V, starts: 0 s, rise: 500 ms, lasts: 500 ms, every: 1 s");

    private static string Pulse(string net, double duty) =>
        $$"""
          V{{net}}: {voltage source: {{5 * (1 - duty):R}} V, plus: {{net}} level, minus: 0 V}
          R{{net}}: {resistor: 10k, from: {{net}} level, to: 0 V}
          U{{net}}: {comparator: ideal, output: push-pull, delay: 10 ns, ramp: 10 ns, hysteresis: 1 uV, on resistance: 1m, plus: core, minus: {{net}} level, out: {{net}}, supply: [logic, 0 V]}
          L{{net}}: {resistor: 10k, from: {{net}}, to: 0 V}

        """;

    private sealed record Seen(double[] Volts, double Low, double High, double Mean, double Rms, double Distortion)
    {
        /// <summary>Amplitude of a harmonic, the fundamental 1, for a wave of height 1.</summary>
        public double Share(int k) => Volts[k - 1] / (High - Low);

        /// <summary>All that is not the fundamental, against it.</summary>
        public double WholeDistortion => Math.Sqrt(Rms * Rms - Mean * Mean - Volts[0] * Volts[0] / 2) / (Volts[0] / Math.Sqrt(2));
    }

    private static Seen Scope(string more, string net)
    {
        (Screen screen, StringWriter output, StringWriter error) = Call.Paper();
        Voice voice = Waves(more);
        int code = new ScopeVerb(screen, _ => (voice, [])).Run(new("toy", [$"o1/{net}"], [], Play: "0 V", Untrimmed: true, Json: true), TestContext.Current.CancellationToken);
        Assert.Equal((Exit.Done, ""), (code, error.ToString()));
        JsonElement trace = JsonDocument.Parse(output.ToString()).RootElement.GetProperty("traces")[0];
        double Number(string name) => trace.GetProperty(name).GetDouble();
        return new([.. trace.GetProperty("harmonicVolts").EnumerateArray().Select(line => line.GetDouble())], Number("lowestVolts"), Number("highestVolts"), Number("meanVolts"), Number("rmsVolts"), Number("distortion"));
    }

    [Fact]
    public void A_saw_a_square_and_a_triangle_have_the_published_lines_and_distortion()
    {
        // Waves of ±1: R. N. Bracewell, The Fourier Transform and Its Applications (from memory); sums of their series.
        Seen saw = Scope("", "core");
        Expect.Within(0.636619772368, 2 * saw.Share(1), Reset);
        Expect.Within(0.803077870974, saw.WholeDistortion, 10 * Reset);
        Expect.Within(0.741463236558, Math.Sqrt(saw.Volts[1..10].Sum(v => v * v)) / saw.Volts[0], 10 * Reset); // harmonics 2 to 10

        Seen square = Scope(Pulse("square", 0.5), "square");
        Expect.Within(1.27323954474, 2 * square.Share(1), 10 * Reset);
        Expect.Within(0.483425847609, square.WholeDistortion, 10 * Reset);

        Seen triangle = Scope(Triangle("triangle", 2.5), "triangle");
        Expect.Within(0.810569469139, 2 * triangle.Share(1), 1e-9);
        Expect.Within(0.121152926519, triangle.WholeDistortion, 1e-8);
    }

    [Theory]
    [InlineData(0.25, new[] { 0.450158158, 0.318309886, 0.150052719, 0 })]
    [InlineData(0.1, new[] { 0.196726329, 0.187097857, 0.171678738, 0.151365346, 0.127323954 })]
    public void A_pulse_has_the_sinc_of_its_duty(double duty, double[] amplitudes)
    {
        Seen pulse = Scope(Pulse("pulse", duty), "pulse");
        for (int k = 1; k <= amplitudes.Length; k++)
            Expect.Within(amplitudes[k - 1], pulse.Share(k), 2 * Reset);
        Expect.Within(duty, (pulse.Mean - pulse.Low) / (pulse.High - pulse.Low), Reset);
    }

    [Fact]
    public void A_pulse_of_a_third_has_68_percent_of_distortion() =>
        Expect.Within(0.679826165, Scope(Pulse("third", 1.0 / 3), "third").WholeDistortion, 10 * Reset);

    [Fact]
    public void Two_harmonics_of_40_and_50_dB_make_1_05_percent() =>
        // Root of the sum of squares, IEC 60268-3 (from memory). Straight lines take 1e-3 off the fifth.
        Expect.Relative(0.0104880884817, Scope(Source("sum", "\"sin(2 * pi * t) + 0.01 * sin(6 * pi * t) + 0.00316227766 * sin(10 * pi * t)\""), "sum").Distortion, 1e-3);

    // A triangle of so many thermal voltages on a differential pair of ideal transistors, two tails of 1 mA, emitters joined.
    private static Seen Shaper(double degeneration, double peak)
    {
        double thermal = Constants.ThermalVoltage(Constants.ReferenceTemperature);
        return Scope(
            Triangle("drive", peak * thermal)
                + $$"""
                  Q1: {npn: ideal, collector: sine, base: drive, emitter: left, forward gain: 1e12, saturation current: 1e-16 A}
                  Q2: {npn: ideal, collector: +12 V, base: 0 V, emitter: right, forward gain: 1e12, saturation current: 1e-16 A}
                  R11: {resistor: {{Math.Max(degeneration * thermal / 1e-3, 1e-3):0.######}} ohm, from: left, to: right}
                  R12: {resistor: 500, from: +12 V, to: sine}
                  I1: {current source: 1 mA, from: left, to: 0 V}
                  I2: {current source: 1 mA, from: right, to: 0 V}
                """,
            "sine");
    }

    // What 1e-5 V and the points' straight lines are of distortions of 0.26 % to 1.8 % of half a volt: 2e-3.
    private const double Shaped = 2e-3;

    // Meyer, Sansen, Lui, Peeters, IEEE JSSC SC-11(3), June 1976, 418-420; figures worked out for ideal transistors.
    [Theory]
    [InlineData(0, 2.80421381, 1.3594303)]
    [InlineData(0, 3, 1.7975496)]
    [InlineData(2.5607, 6.8720, 0.26290)]
    [InlineData(2.5, 6.7775, 0.26410)]
    [InlineData(2.5, 6.6, 0.68498)]
    [InlineData(1, 4.081, 1.70250)]
    public void A_differential_pair_makes_a_sine_of_the_published_distortion(double degeneration, double peak, double percent) =>
        Expect.Relative(percent, 100 * Shaper(degeneration, peak).WholeDistortion, Shaped);

    [Fact]
    public void Its_third_and_fifth_harmonics_are_the_published_ones()
    {
        Seen sine = Shaper(0, 3);
        Expect.Relative(1.343467, 100 * sine.Volts[2] / sine.Volts[0], Shaped);
        Expect.Relative(1.010223, 100 * sine.Volts[4] / sine.Volts[0], Shaped);
        Seen series = Shaper(1, 4.081); // the power series of arcsine, matched
        Expect.Relative(0.88071793, series.Volts[0] / 0.5, 5e-5); // one of the pair's two collectors: half of 1 V
        Expect.Relative(1.30527, 100 * series.Volts[2] / series.Volts[0], Shaped);
    }

    // Threshold 5 − 0.2·sin(2π·fm·t) on a saw that runs free at 1 Hz: locked if and only if 0.96 ≤ f0/fm ≤ 1.04 (circle map,
    // from memory).
    [Theory]
    [InlineData(0.962, true)]
    [InlineData(1.041, true)]
    [InlineData(0.955, false)]
    [InlineData(1.048, false)]
    public void A_sine_on_the_threshold_holds_a_saw_within_4_percent(double hertz, bool isHeld)
    {
        (Screen screen, StringWriter output, _) = Call.Paper();
        Voice voice = ToyVoice.OnMultiple(1, ToyVoice.Oscillator("toy", "100k").Replace("V1: {voltage source: 5 V", $"V1: {{voltage source: \"4.9 - 0.2 * sin(2 * pi * {hertz} * t)\"", StringComparison.Ordinal));
        ScopeVerb.Request request = new("toy", ["o1/core"], [], Play: "0 V", Settle: 150, Untrimmed: true, Json: true);
        Assert.Equal(Exit.Done, new ScopeVerb(screen, _ => (voice, [])).Run(request, TestContext.Current.CancellationToken));
        JsonElement trace = JsonDocument.Parse(output.ToString()).RootElement.GetProperty("traces")[0];
        Assert.Equal(isHeld, Math.Abs(trace.GetProperty("hertz").GetDouble() / hertz - 1) < 1e-5 && trace.GetProperty("unsteadiness").GetDouble() < 1e-5);
    }
}
