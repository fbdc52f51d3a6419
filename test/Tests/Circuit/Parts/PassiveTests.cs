using Consort.Engine.Circuit;
using Consort.Engine.Circuit.Motion;
using Consort.Engine.Circuit.Signal;
using Xunit;

namespace Consort.Tests.Circuit.Parts;

/// <summary>Resistors, capacitors, inductors, potentiometers and selectors through bank and solver.</summary>
public sealed class PassiveTests
{
    [Theory]
    // Textbook: 1 − e^−1, 1 − e^−2.5, 1 − e^−5.
    [InlineData(1, 0.632120558829)]
    [InlineData(2.5, 0.917915001376)]
    [InlineData(5, 0.993262053001)]
    public void A_capacitor_charges_through_a_resistor_in_time_constants(double constants, double expected)
    {
        Rig rig = new(
            """
            V1: {voltage source: 1 V, plus: a, minus: 0 V}
            R1: {resistor: 1k, from: a, to: b}
            C1: {capacitor: 1µ, starts at: 0 V, from: b, to: 0 V}
            """
        );
        Assert.Equal(expected, Run(rig, constants * 1e-3)[rig.Circuit.Net("b")], 1e-8);
    }

    [Theory]
    // Desoer & Kuh, Basic Circuit Theory (from memory): L 1 mH, C 100 nF, R 40 Ω, step of 1 V.
    [InlineData(20e-6, 1.12748444506)]
    [InlineData(50e-6, 1.00554445182)]
    [InlineData(100e-6, 1.13609204760)]
    [InlineData(32.0637457540e-6, 1.526620599330)]
    public void A_series_resonance_rings_as_its_closed_form_says(double time, double expected)
    {
        Rig rig = new(
            """
            V1: {voltage source: 1 V, plus: a, minus: 0 V}
            L1: {inductor: 1m, series resistance: 40 ohm, starts at: 0 A, from: a, to: b}
            C1: {capacitor: 100n, starts at: 0 V, from: b, to: 0 V}
            """
        );
        Assert.Equal(expected, Run(rig, time)[rig.Circuit.Net("b")], 1e-8);
    }

    [Fact]
    public void Held_parts_let_go_at_time_zero_with_what_they_held()
    {
        Rig rig = new(
            """
            C1: {capacitor: 1n, starts at: -3 V, from: 0 V, to: b}
            R1: {resistor: 1k, from: b, to: 0 V}
            L1: {inductor: 1m, starts at: 2 mA, from: c, to: 0 V}
            R2: {resistor: 1k, from: c, to: 0 V}
            """
        );
        Assert.Equal(3, rig["b"], 1e-12);
        Assert.Equal(-2, rig["c"], 1e-12);
        double[] after = Run(rig, 1e-6);
        Assert.Equal(3 * Math.Exp(-1), after[rig.Circuit.Net("b")], 1e-8);
        Assert.Equal(-2 * Math.Exp(-1), after[rig.Circuit.Net("c")], 1e-8);
    }

    [Fact]
    public void Series_resistance_and_leakage_of_a_capacitor_divide_at_rest()
    {
        Rig rig = new(
            """
            V1: {voltage source: 1 V, plus: a, minus: 0 V}
            C1: {capacitor: 1n, leakage: 9 Mohm, series resistance: 1 Mohm, from: a, to: 0 V}
            """
        );
        Assert.Equal(1e-7, rig.Current("C1", "from"), 1e-18);
    }

    [Fact]
    public void A_capacitors_value_follows_its_temperature_coefficient()
    {
        // EIA-198, polystyrene typical −120 ppm/K (from memory): f ∝ 1/C, so 20 K are +4.15996 cent.
        double cold = Corner(298.15);
        Assert.Equal(4.15996, 1200 * Math.Log2(Corner(318.15) / cold), 1e-4);

        static double Corner(double kelvin)
        {
            Rig rig = new(
                """
                V1: {voltage source: 0 V, small signal: 1 V, plus: a, minus: 0 V}
                R1: {resistor: 1M, from: a, to: b}
                C1: {capacitor: 1n, tempco: -120 ppm/K, from: b, to: 0 V}
                """,
                kelvin
            );
            // |H| = 1/√(1 + (f/fc)²), so fc from one reading.
            double size = new SmallSignal(rig.Circuit, rig.State).Response(1e3)![rig.Circuit.Net("b")].Magnitude;
            return 1e3 / Math.Sqrt(1 / (size * size) - 1);
        }
    }

    [Theory]
    // Johnson, Phys. Rev. 32 (1928) 97; Nyquist, ibid. 110: √(4kTR), per root hertz.
    [InlineData("1k", 298.15, 4.05778510693e-9)]
    [InlineData("10k", 300, 1.82031799420e-6 / 141.4213562373)] // over 20 kHz
    [InlineData("100k", 298.15, 5.73857473141e-6 / 141.4213562373)]
    public void A_resistor_is_as_noisy_as_Johnson_found(string resistance, double kelvin, double expected)
    {
        Rig rig = new(
            $$"""R1: {resistor: {{resistance}}, from: a, to: 0 V}""" + "\nR2: {resistor: 1e15, from: a, to: 0 V}",
            kelvin
        );
        double density = new SmallSignal(rig.Circuit, rig.State).Noise(1e3, rig.Circuit.Net("a"))!.Density;
        Assert.Equal(expected, density, 1e-9 * expected);
    }

    [Fact]
    public void Shot_noise_of_a_diode_is_that_of_Schottky()
    {
        // √(2qI), 1 mA: 17.9007074385 pA/√Hz (Schottky 1918), into the diode's own VT/I.
        Rig rig = new(
            """
            I1: {current source: 1 mA, from: 0 V, to: a}
            D1: {diode: ideal, anode: a, cathode: 0 V}
            """
        );
        double density = new SmallSignal(rig.Circuit, rig.State).Noise(1e3, rig.Circuit.Net("a"))!.Density;
        Assert.Equal(17.9007074385e-12 * 25.6925791211, density, 1e-9 * density);
    }

    [Fact]
    public void A_loaded_linear_potentiometer_gives_two_fifths_at_half_turn()
    {
        // Textbook: a/(1 + a(1−a)R/RL), 100 k loaded with 100 k at a = 0.5: 0.400000.
        Rig rig = new(
            """
            V1: {voltage source: 1 V, plus: a, minus: 0 V}
            P1: {potentiometer: 100k, position: 50%, ccw: 0 V, wiper: w, cw: a}
            R1: {resistor: 100k, from: w, to: 0 V}
            """
        );
        Assert.Equal(0.4, rig["w"], 1e-12);
    }

    [Theory]
    // 10 % at half turn from makers' taper curves, (81^x − 1)/80: 2.5 % at a quarter (from memory, unsure).
    [InlineData("audio", 0.5, 0.1)]
    [InlineData("audio", 0.25, 0.025)]
    [InlineData("reverse audio", 0.5, 0.9)]
    [InlineData("reverse audio", 0.75, 0.975)]
    [InlineData("linear", 0.25, 0.25)]
    public void Tapers_share_the_track_by_their_law(string taper, double position, double expected)
    {
        Rig rig = new(
            $$"""
            V1: {voltage source: 1 V, plus: a, minus: 0 V}
            P1: {potentiometer: 100k, taper: {{taper}}, position: {{position}}, wiper resistance: 100 ohm, ccw: 0 V, wiper: w, cw: a}
            R1: {resistor: 1e13, from: w, to: 0 V}
            """
        );
        Assert.Equal(expected, rig["w"], 1e-8);
    }

    [Fact]
    public void A_potentiometer_with_an_open_end_is_a_variable_resistor()
    {
        Rig rig = new(
            """
            I1: {current source: 1 mA, from: 0 V, to: a}
            P1: {trimmer: 10k, position: 30%, wiper resistance: 50 ohm, wiper: 0 V, cw: a}
            """
        );
        Assert.Equal(7.05, rig["a"], 1e-9);
    }

    [Fact]
    public void A_selector_joins_the_way_that_its_value_names()
    {
        Rig rig = new(
            """
            V1: {voltage source: 1 V, plus: a, minus: 0 V}
            V2: {voltage source: 2 V, plus: b, minus: 0 V}
            S1: {selector: 2, pole: p, ways: [a, b]}
            R1: {resistor: 1M, from: p, to: 0 V}
            """
        );
        Assert.Equal(2, rig["p"], 1e-7);
        Assert.Equal(1, rig.With("S1", "value", 1)["p"], 1e-7);
    }

    private static double[] Run(Rig rig, double until)
    {
        Transient run = new(rig.Circuit, Accuracy.Strict(1e-9, 1e-12));
        run.Start(rig.State.X);
        Assert.Null(run.RunTo(until));
        return run.X;
    }
}
