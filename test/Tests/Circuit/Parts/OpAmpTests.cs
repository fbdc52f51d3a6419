using System.Numerics;
using Consort.Engine.Circuit;
using Consort.Engine.Circuit.Motion;
using Consort.Engine.Circuit.Signal;
using Xunit;

namespace Consort.Tests.Circuit.Parts;

/// <summary>Op amps through bank and solver. Franco, Design with Operational Amplifiers and Analog ICs (from memory),
/// unless a test says otherwise.</summary>
public sealed class OpAmpTests
{
    private const string Supplies = """
        VP: {voltage source: 15 V, plus: p, minus: 0 V}
        VN: {voltage source: -15 V, plus: n, minus: 0 V}
        """;

    [Fact]
    public void Finite_gain_leaves_a_non_inverting_amplifier_short()
    {
        // Franco ch. 1, loop gain: A = 1e5, ideal gain 2: 1.99996000080. The output resistance is next to nothing.
        Rig rig = new(
            $$"""
            {{Supplies}}
            V1: {voltage source: 1 V, plus: i, minus: 0 V}
            U1: {op amp: ideal, gain: 1e5, plus: i, minus: m, out: o, supply: [p, n]}
            R1: {resistor: 10k, from: o, to: m}
            R2: {resistor: 10k, from: m, to: 0 V}
            """
        );
        Assert.Equal(1.99996000080, rig["o"], 2e-10);
    }

    [Fact]
    public void A_follower_loses_what_its_gain_leaves()
    {
        // Franco: A/(1 + A), A = 2e5 at 5 V: -0.0299998500 cent.
        Rig rig = new(
            $$"""
            {{Supplies}}
            V1: {voltage source: 5 V, plus: i, minus: 0 V}
            U1: {op amp: ideal, gain: 2e5, plus: i, minus: o, out: o, supply: [p, n]}
            """
        );
        Assert.Equal(-0.02999985, (rig["o"] - 5) * 1200, 1e-8);
    }

    [Fact]
    public void An_offset_counts_by_the_noise_gain_of_an_adder()
    {
        // Franco ch. 1: Rf 100 k, 3 V via 100 k, -1.5 V via 47 k, 0.25 V via 1 M: noise gain 4.22765957447.
        double clean = Adder("0 V");
        Assert.Equal(0.166489361702, clean, 1e-10);
        Assert.Equal(4.22765957447e-3, Adder("1 mV") - clean, 1e-11);

        static double Adder(string offset) =>
            new Rig(
                $$"""
                {{Supplies}}
                V1: {voltage source: 3 V, plus: a, minus: 0 V}
                V2: {voltage source: -1.5 V, plus: b, minus: 0 V}
                V3: {voltage source: 0.25 V, plus: c, minus: 0 V}
                R1: {resistor: 100k, from: a, to: m}
                R2: {resistor: 47k, from: b, to: m}
                R3: {resistor: 1M, from: c, to: m}
                R4: {resistor: 100k, from: o, to: m}
                U1: {op amp: ideal, offset: {{offset}}, plus: 0 V, minus: m, out: o, supply: [p, n]}
                """
            )["o"];
    }

    [Fact]
    public void Bias_current_doubles_every_ten_kelvin_and_drops_its_voltage()
    {
        // 65 pA in 100 kΩ: 6.5 µV at 25 °C (arithmetic, FET-input data-sheet typicals); twice that 10 K warmer.
        Assert.Equal(-6.5e-6, At(298.15), 1e-11);
        Assert.Equal(-13e-6, At(308.15), 1e-11);

        static double At(double kelvin) =>
            new Rig(
                $$"""
                {{Supplies}}
                R1: {resistor: 100k, from: i, to: 0 V}
                U1: {op amp: ideal, bias current: 65 pA, bias doubles every: 10 K, plus: i, minus: o, out: o, supply: [p, n]}
                """,
                kelvin
            )["i"];
    }

    [Fact]
    public void Closed_loop_bandwidth_is_the_gain_bandwidth_over_the_noise_gain()
    {
        // Franco ch. 6: 3 MHz, noise gain 3: 1.000 MHz. With A0 = 1e12 exactly.
        Rig rig = new(
            $$"""
            {{Supplies}}
            V1: {voltage source: 0 V, small signal: 1 V, plus: i, minus: 0 V}
            U1: {op amp: ideal, gain-bandwidth: 3 MHz, slew rate: 13 V/µs, plus: i, minus: m, out: o, supply: [p, n]}
            R1: {resistor: 20k, from: o, to: m}
            R2: {resistor: 10k, from: m, to: 0 V}
            """
        );
        SmallSignal signal = new(rig.Circuit, rig.State);
        Complex[] response = signal.Response(1e6)!;
        Assert.Equal(3 / Math.Sqrt(2), response[rig.Circuit.Net("o")].Magnitude, 1e-6);
    }

    [Fact]
    public void Full_power_bandwidth_is_where_the_slew_rate_bites()
    {
        // Franco ch. 6: SR/(2π·Vp) with 13 V/µs and 10 V: 206901.426 Hz. A follower asked for a sinusoid at half of that
        // keeps its peak; at twice that it is a triangle of SR/(4f) peak.
        const double Limit = 206901.426;
        Assert.Equal(10, Peak(Limit / 2), 0.2);
        Assert.Equal(13e6 / (4 * 2 * Limit), Peak(2 * Limit), 0.15);

        static double Peak(double hertz)
        {
            Rig rig = new(
                $$"""
                {{Supplies}}
                V1: {voltage source: 0 V, amplitude: 10 V, frequency: {{hertz:R}} Hz, plus: i, minus: 0 V}
                U1: {op amp: ideal, gain: 1e6, gain-bandwidth: 100 MHz, slew rate: 13 V/µs, plus: i, minus: o, out: o, supply: [p, n]}
                """
            );
            Transient run = new(rig.Circuit, new(1e-5));
            run.Start(rig.State.X);
            double peak = 0;
            int output = rig.Circuit.Net("o");
            for (int i = 1; i <= 600; i++)
            {
                Assert.Null(run.RunTo(0.01 * i / hertz));
                peak = i > 400 ? Math.Max(peak, run.X[output]) : 0;
            }
            return peak;
        }
    }

    [Theory]
    // The macromodel's own promise: limits sit at the headroom below the supply pins, within the walls' softness.
    [InlineData(10, 13.5)]
    [InlineData(-10, -13)]
    public void Output_stops_short_of_the_supplies(double drive, double stop)
    {
        Rig rig = new(
            $$"""
            {{Supplies}}
            V1: {voltage source: {{drive}} V, plus: i, minus: 0 V}
            U1: {op amp: ideal, headroom high: 1.5 V, headroom low: 2 V, plus: i, minus: 0 V, out: o, supply: [p, n]}
            R1: {resistor: 10k, from: o, to: 0 V}
            """
        );
        Assert.Equal(stop, rig["o"], 0.06);
    }

    [Fact]
    public void Swing_limits_cost_nothing_a_volt_away()
    {
        Rig rig = new(
            $$"""
            {{Supplies}}
            V1: {voltage source: 12.5 V, plus: i, minus: 0 V}
            U1: {op amp: ideal, headroom high: 1.5 V, plus: i, minus: o, out: o, supply: [p, n]}
            """
        );
        Assert.Equal(12.5, rig["o"], 1e-10);
    }

    [Fact]
    public void Output_current_is_limited_and_comes_out_of_the_supply_that_gives_it()
    {
        Rig shorted = Loaded("1 ohm");
        Assert.Equal(25e-3, shorted["o"], 1e-3); // 25 mA and a little more per volt into 1 Ω
        Assert.Equal(-(1.4e-3 + shorted["o"]), shorted.Current("VP", "plus"), 1e-5);
        Assert.Equal(1.4e-3, shorted.Current("VN", "plus"), 1e-5);
        Rig light = Loaded("10 kohm");
        Assert.Equal(5, light["o"], 1e-7); // 0.5 mA: exactly linear, the loop's gain hides the resistance

        static Rig Loaded(string load) =>
            new(
                $$"""
                {{Supplies}}
                V1: {voltage source: 5 V, plus: i, minus: 0 V}
                U1: {op amp: ideal, output resistance: 50 ohm, current limit: 25 mA, supply current: 1.4 mA, plus: i, minus: o, out: o, supply: [p, n]}
                R1: {resistor: {{load}}, from: o, to: 0 V}
                """
            );
    }

    [Fact]
    public void Common_mode_and_supplies_move_the_offset_by_their_rejection()
    {
        Rig rig = new(
            $$"""
            {{Supplies}}
            V1: {voltage source: 5 V, plus: i, minus: 0 V}
            U1: {op amp: ideal, common-mode rejection: 1e4, supply rejection: 1e5, plus: i, minus: o, out: o, supply: [p, n]}
            """
        );
        Assert.Equal(5 * (1 + 1e-4), rig["o"], 1e-7); // second order: 5e-8
        rig.With("VP", "value", 16);
        // The middle of the supplies rises by half a volt, their sum by one.
        Assert.Equal(5 + 4.5e-4 + 1e-5, rig["o"], 1e-7);
    }

    [Fact]
    public void An_input_beyond_its_range_is_not_followed()
    {
        Rig rig = new(
            $$"""
            {{Supplies}}
            V1: {voltage source: -14 V, plus: i, minus: 0 V}
            U1: {op amp: ideal, headroom low: 0 V, input range low: 3 V, plus: i, minus: m, out: o, supply: [p, n]}
            R1: {resistor: 10k, from: o, to: m}
            R2: {resistor: 10k, from: m, to: 0 V}
            """
        );
        // -14 V counts as -12 V and a thousandth of the rest; twice that is past the swing, so the output stops there.
        Assert.Equal(-15, rig["o"], 0.06);
        rig.With("V1", "value", -7);
        Assert.Equal(-14, rig["o"], 1e-6);
    }

    [Fact]
    public void Voltage_noise_appears_at_the_output_by_the_noise_gain()
    {
        // Franco ch. 7: en·(1 + R2/R1); the resistors are kept so small that they add less than a millionth.
        Rig rig = new(
            $$"""
            {{Supplies}}
            U1: {op amp: ideal, gain-bandwidth: 1 GHz, voltage noise: 18 nV/rtHz, voltage noise corner: 100 Hz, plus: 0 V, minus: m, out: o, supply: [p, n]}
            R1: {resistor: 1 mohm, from: m, to: 0 V}
            R2: {resistor: 2 mohm, from: o, to: m}
            """
        );
        int output = rig.Circuit.Net("o");
        SmallSignal signal = new(rig.Circuit, rig.State);
        Assert.Equal(54e-9 * Math.Sqrt(1.001), signal.Noise(1e5, output)!.Density, 1e-13);
        Assert.Equal(54e-9 * Math.Sqrt(2), signal.Noise(100, output)!.Density, 1e-12);
    }

    [Fact]
    public void Current_noise_of_an_input_meets_its_source_resistance()
    {
        // Franco ch. 7: in·R beside 4kTR: 0.7 pA/√Hz in 1 MΩ is 0.7 µV/√Hz, the resistor's own 128.3 nV/√Hz
        // (4.05778510693 nV·√1000, Johnson 1928, Nyquist 1928).
        Rig rig = new(
            $$"""
            {{Supplies}}
            R1: {resistor: 1M, from: i, to: 0 V}
            U1: {op amp: ideal, current noise: 0.7 pA/rtHz, plus: i, minus: o, out: o, supply: [p, n]}
            """
        );
        double density = new SmallSignal(rig.Circuit, rig.State).Noise(1, rig.Circuit.Net("o"))!.Density;
        double expected = Math.Sqrt(0.7e-6 * 0.7e-6 + 1000 * 4.05778510693e-9 * 4.05778510693e-9);
        Assert.Equal(expected, density, 1e-6 * expected);
    }
}
