using System.Globalization;
using Consort.Engine.Circuit;
using Consort.Engine.Circuit.Motion;
using Xunit;

namespace Consort.Tests.Circuit.Parts;

/// <summary>Comparators and analog switches through bank and solver: their own definitions, unless a source is named.</summary>
public sealed class SwitchingTests
{
    private const string Supplies = """
        VP: {voltage source: 15 V, plus: p, minus: 0 V}
        VN: {voltage source: -15 V, plus: n, minus: 0 V}
        """;

    [Theory]
    [InlineData(0.5, 15)]
    [InlineData(-0.5, 0.1)]
    public void At_rest_an_open_collector_conducts_while_minus_is_above_plus(double plus, double output)
    {
        Rig rig = new(
            $$"""
            {{Supplies}}
            V1: {voltage source: {{plus}} V, plus: i, minus: 0 V}
            U1: {comparator: ideal, saturation voltage: 0.1 V, on resistance: 1 mohm, plus: i, minus: 0 V, out: o, emitter: 0 V, supply: [p, n]}
            R1: {resistor: 10k, from: p, to: o}
            """
        );
        Assert.Equal(output, rig["o"], 2e-5);
    }

    [Theory]
    [InlineData(0.5, 14.9)]
    [InlineData(-0.5, -14.9)]
    public void A_push_pull_output_reaches_for_either_supply(double plus, double output)
    {
        Rig rig = new(
            $$"""
            {{Supplies}}
            V1: {voltage source: {{plus}} V, plus: i, minus: 0 V}
            U1: {comparator: ideal, output: push-pull, saturation voltage: 0.1 V, on resistance: 100 ohm, plus: i, minus: 0 V, out: o, supply: [p, n]}
            R1: {resistor: 100k, from: o, to: 0 V}
            """
        );
        Assert.Equal(output * 100 / 100.1, rig["o"], 1e-6);
    }

    [Fact]
    public void An_output_turns_a_delay_after_the_input_crosses_half_the_hysteresis()
    {
        // A ramp of 1 V/ms rises through +10 mV at 10 µs (offset 0, hysteresis 20 mV); delay 2 µs, ramp 1 µs, half of the
        // way after half of the ramp.
        Rig rig = new(
            $$"""
            {{Supplies}}
            V1: {voltage source: 1 V, before: 0 V, starts: 0 s, rise: 1 ms, plus: i, minus: 0 V}
            U1: {comparator: ideal, output: push-pull, delay: 2 µs, ramp: 1 µs, hysteresis: 20 mV, saturation voltage: 0 V, plus: i, minus: 0 V, out: o, supply: [p, n]}
            R1: {resistor: 1M, from: o, to: 0 V}
            """
        );
        Transient run = new(rig.Circuit, Accuracy.Default, [new(rig.Circuit.Net("o"), 0, true)]);
        run.Start(rig.State.X);
        Assert.Null(run.RunTo(100e-6));
        Crossing crossing = Assert.Single(run.Crossings);
        Assert.Equal(10e-6 + 2e-6 + 0.5e-6, crossing.Time, 1e-11);
    }

    [Fact]
    public void Pulses_shorter_than_the_delay_come_out_whole()
    {
        // Three 1 µs pulses, 3 µs apart, against a delay of 10 µs: six edges come out, 10 µs later.
        Rig rig = new(
            $$"""
            {{Supplies}}
            V1: {voltage source: 1 V, before: -1 V, starts: 5 µs, rise: 2 ns, lasts: 1 µs, every: 3 µs, plus: i, minus: 0 V}
            U1: {comparator: ideal, output: push-pull, delay: 10 µs, ramp: 100 ns, saturation voltage: 0 V, plus: i, minus: 0 V, out: o, supply: [p, n]}
            R1: {resistor: 1M, from: o, to: 0 V}
            """
        );
        int output = rig.Circuit.Net("o");
        Transient run = new(rig.Circuit, Accuracy.Default, [new(output, 0, true), new(output, 0, false)]);
        run.Start(rig.State.X);
        Assert.Null(run.RunTo(23e-6));
        double[] expected = [15.051e-6, 16.051e-6, 18.051e-6, 19.051e-6, 21.051e-6, 22.051e-6];
        Assert.Equal(expected.Length, run.Crossings.Count);
        for (int i = 0; i < expected.Length; i++)
            Assert.Equal(expected[i], run.Crossings[i].Time, 1e-11);
    }

    [Theory]
    [InlineData(0.4e-6)] // turns back within the microvolt that tells a turn from rounding
    [InlineData(4e-6)]
    public void An_input_that_just_reaches_the_limit_turns_the_output_for_that_long_only(double above)
    {
        // A sine of 1 kHz is above the limit while |t - peak| < acos((A - above)/A)/(2π·1 kHz); seen on the way down a microvolt lower.
        const double Amplitude = 1e-3, Hertz = 1e3, Turn = 1e-6;
        Rig rig = new(
            $$"""
            {{Supplies}}
            V1: {voltage source: 0 V, amplitude: 1 mV, frequency: 1 kHz, plus: i, minus: 0 V}
            V2: {voltage source: {{(Amplitude - above).ToString("R", CultureInfo.InvariantCulture)}} V, plus: limit, minus: 0 V}
            U1: {comparator: ideal, output: push-pull, delay: 50 µs, ramp: 1 ns, saturation voltage: 0 V, plus: i, minus: limit, out: o, supply: [p, n]}
            R1: {resistor: 1M, from: o, to: 0 V}
            """
        );
        int output = rig.Circuit.Net("o");
        Transient run = new(rig.Circuit, Accuracy.Default, [new(output, 0, true), new(output, 0, false)]) { FixedStep = 1e-6 };
        run.Start(rig.State.X);
        Assert.Null(run.RunTo(4 / Hertz));
        Assert.Equal([0, 1, 0, 1, 0, 1, 0, 1], run.Crossings.Select(crossing => crossing.Probe));
        for (int i = 0; i < 4; i++)
        {
            double peak = (i + 0.25) / Hertz + 50e-6;
            Assert.Equal(peak - Span(above), run.Crossings[2 * i].Time, 2e-8);
            Assert.InRange(run.Crossings[2 * i + 1].Time, peak + Span(above) - 2e-8, peak + Span(above + Turn) + 2e-8);
        }

        static double Span(double depth) => Math.Acos((Amplitude - depth) / Amplitude) / (2 * Math.PI * Hertz);
    }

    [Fact]
    public void A_switch_joins_its_sides_while_its_control_is_high()
    {
        Rig rig = new(
            """
            VC: {voltage source: 5 V, plus: c, minus: 0 V}
            V1: {voltage source: 1 V, plus: a, minus: 0 V}
            S1: {analog switch: ideal, threshold: 2.5 V, on resistance: 100 ohm, off resistance: 1 Gohm, a: a, b: b, control: c}
            R1: {resistor: 900 ohm, from: b, to: 0 V}
            """
        );
        Assert.Equal(0.9, rig["b"], 1e-12);
        rig.With("VC", "value", 0);
        Assert.Equal(900e-9, rig["b"], 1e-12);
    }

    [Fact]
    public void An_opening_switch_pushes_its_charge_into_either_side()
    {
        // 10 pC into 1 nF: 10 mV (q = C·v). The other side is held by a source.
        Rig rig = new(
            """
            VC: {voltage source: 0 V, before: 5 V, starts: 1 µs, rise: 1 ns, plus: c, minus: 0 V}
            S1: {analog switch: ideal, threshold: 2.5 V, on resistance: 1 Mohm, off resistance: 1e15 ohm, turn time: 50 ns, injected charge: 10 pC, a: 0 V, b: b, control: c}
            C1: {capacitor: 1n, from: b, to: 0 V}
            """
        );
        Transient run = new(rig.Circuit, new(1e-6, Timing: 1));
        run.Start(rig.State.X);
        Assert.Null(run.RunTo(2e-6));
        // While it opens, 1 MΩ takes less than 50 ns of a time constant of 1 ms back: 5e-5.
        Assert.Equal(10e-3, run.X[rig.Circuit.Net("b")], 1e-6);
    }

    [Fact]
    public void A_schmitt_oscillator_keeps_the_time_of_its_thresholds()
    {
        // T = 2RC·ln((1+β)/(1−β)), β = 1/2: 2.19722457734 RC (Franco ch. 10; Sedra/Smith). RC = 1 ms, so that the
        // ramps (1 ns, twice a period) are parts in a million.
        Rig rig = new(
            $$"""
            {{Supplies}}
            U1: {comparator: ideal, output: push-pull, delay: 0 s, ramp: 1 ns, on resistance: 1 mohm, saturation voltage: 0 V, plus: half, minus: t, out: o, supply: [p, n]}
            R1: {resistor: 10k, from: o, to: half}
            R2: {resistor: 10k, from: half, to: 0 V}
            R3: {resistor: 10k, from: o, to: t}
            C1: {capacitor: 100n, starts at: 1 V, from: t, to: 0 V}
            """
        );
        Transient run = new(rig.Circuit, Accuracy.Default, [new(rig.Circuit.Net("t"), 0, true)]);
        run.Start(rig.State.X);
        Assert.Null(run.RunTo(8e-3));
        double period = run.Crossings[2].Time - run.Crossings[1].Time;
        Assert.Equal(2.19722457734e-3, period, 2e-8);
    }
}
