using Consort.Engine.Circuit;
using Xunit;

namespace Consort.Tests.Circuit.Published;

/// <summary>Thermal voltage, the transistor's exponential and what spoils it. k and q are exact: Mohr, Newell, Taylor,
/// Tiesinga, CODATA 2018, Rev. Mod. Phys. 93 (2021) 025010. Sources from memory unless a test says otherwise.</summary>
public sealed class ExponentialTests
{
    private const double Reference = 298.15;

    /// <summary>Q1 holds the reference current, Q2 gives it times exp(−v(base)/VT). Ideal but for what a test sets.</summary>
    private const string Converter = """
        circuit:
          V1: {voltage source: 0 V, plus: base, minus: 0 V}
          V2: {voltage source: 5 V, plus: load, minus: 0 V}
          V3: {voltage source: 12 V, plus: +12 V, minus: 0 V}
          V4: {voltage source: -12 V, plus: -12 V, minus: 0 V}
          I1: {current source: 10 uA, from: +12 V, to: reference}
          Q1: {npn: ideal, collector: reference, base: base, emitter: tail, forward gain: 1e12, saturation current: 0.1 fA}
          Q2: {npn: ideal, collector: load, base: 0 V, emitter: tail, forward gain: 1e12, saturation current: 0.1 fA}
          U1: {op amp: ideal, plus: 0 V, minus: reference, out: tail, supply: [+12 V, -12 V]}
        """;

    private const string DiodeConnected = """
        circuit:
          I1: {current source: 100 uA, from: 0 V, to: b}
          Q1: {npn: ideal, collector: b, base: b, emitter: 0 V, forward gain: 1e12, saturation current: 1e-14 A}
        """;

    [Theory]
    [InlineData(273.15, 23.5382458055e-3)]
    [InlineData(293.15, 25.2617124580e-3)]
    [InlineData(298.15, 25.6925791211e-3)]
    [InlineData(300, 25.8519997864e-3)]
    [InlineData(300.15, 25.8649257863e-3)]
    [InlineData(318.15, 27.4160457735e-3)]
    public void The_thermal_voltage_is_kT_over_q(double kelvin, double volts)
    {
        // CODATA 2018 and 2022. rel 1e-11: the expected values have twelve digits.
        Bench bench = new(
            """
            circuit:
              V1: {voltage source: "k * T / q", plus: out, minus: 0 V}
              R1: {resistor: 1k, from: out, to: 0 V}
            """,
            kelvin
        );
        Expect.Relative(volts, bench["out"], 1e-11);
        Expect.Relative(volts, Constants.ThermalVoltage(kelvin), 1e-11);
    }

    [Theory]
    [InlineData(298.15, 17.8087387791e-3, 59.1593496848e-3)]
    [InlineData(300.15, 17.9282003842e-3, 59.5561925470e-3)]
    public void A_transistor_takes_VT_ln2_for_an_octave_and_VT_ln10_for_a_decade(double kelvin, double octave, double decade)
    {
        // Gray, Hurst, Lewis, Meyer, Analysis and Design of Analog Integrated Circuits, ch. 1.
        Bench bench = new(DiodeConnected, kelvin);
        double one = bench["b"];
        double two = bench.With("I1", "value", 200e-6)["b"];
        double ten = bench.With("I1", "value", 1e-3)["b"];
        Expect.Relative(octave, two - one, 1e-9); // the -1 in Shockley's law is 1e-10 of 100 uA
        Expect.Relative(decade, ten - one, 1e-9);
    }

    [Theory]
    [InlineData(298.15, 3354.0164)]
    [InlineData(293.15, 3411.2229)]
    [InlineData(300, 3333.3333)]
    public void An_octave_at_the_base_grows_by_1_over_T_per_kelvin(double kelvin, double partsPerMillion)
    {
        // Franco, Design with Operational Amplifiers and Analog ICs, log/antilog amplifiers.
        const double Step = 0.02;
        double below = Octave(kelvin - Step);
        double above = Octave(kelvin + Step);
        Expect.Within(partsPerMillion, 1e6 * Math.Log(above / below) / (2 * Step), 0.001);
    }

    private static double Octave(double kelvin)
    {
        Bench bench = new(DiodeConnected, kelvin);
        double one = bench["b"];
        return bench.With("I1", "value", 200e-6)["b"] - one;
    }

    [Theory]
    [InlineData(1, -4.01136554)]
    [InlineData(10, -38.9420737)]
    public void An_uncompensated_converter_goes_flat_by_T0_over_T_in_every_octave(double warmer, double cents)
    {
        // As the row before: at constant base voltage the exponent goes as T0/T.
        Bench bench = new(Converter, Reference + warmer);
        double at0 = bench.Into("Q2", "collector");
        double up = bench.With("V1", "value", -17.8087387791e-3).Into("Q2", "collector");
        Expect.Within(cents, Expect.Cents(at0, up) - 1200, 1e-6);
    }

    [Theory]
    [InlineData(3300, 10, -0.627162096)]
    [InlineData(3350, 10, -0.0466331332)]
    [InlineData(3500, 10, 1.69495376)]
    [InlineData(3900, 10, 6.33918546)]
    [InlineData(3300, 20, -1.21489863)]
    [InlineData(3350, 20, -0.0903347477)]
    [InlineData(3500, 20, 3.28335691)]
    [InlineData(3900, 20, 12.2798680)]
    [InlineData(3300, -15, 1.02380364)]
    [InlineData(3350, -15, 0.0761257284)]
    [InlineData(3500, -15, -2.76690800)]
    [InlineData(3900, -15, -10.3483312)]
    public void A_tempco_resistor_leaves_the_published_error_per_octave(double partsPerMillion, double warmer, double cents)
    {
        // Arithmetic on the catalogue grades 3300, 3500 and 3900 ppm/K. The part is the feedback of an inverting stage,
        // so that it alone sets the gain; one volt is an octave at 25 °C.
        Bench bench = new(
            """
            circuit:
              V1: {voltage source: 0 V, plus: pitch, minus: 0 V}
              R1: {resistor: 100k, from: pitch, to: sum}
              R2: {resistor: 1780.87387791, from: sum, to: base}
              U2: {op amp: ideal, plus: 0 V, minus: sum, out: base, supply: [+12 V, -12 V]}
              V2: {voltage source: 5 V, plus: load, minus: 0 V}
              V3: {voltage source: 12 V, plus: +12 V, minus: 0 V}
              V4: {voltage source: -12 V, plus: -12 V, minus: 0 V}
              I1: {current source: 10 uA, from: +12 V, to: reference}
              Q1: {npn: ideal, collector: reference, base: base, emitter: tail, forward gain: 1e12, saturation current: 0.1 fA}
              Q2: {npn: ideal, collector: load, base: 0 V, emitter: tail, forward gain: 1e12, saturation current: 0.1 fA}
              U1: {op amp: ideal, plus: 0 V, minus: reference, out: tail, supply: [+12 V, -12 V]}
            """,
            Reference + warmer
        );
        bench.With("R2", "tempco", partsPerMillion * 1e-6);
        double at0 = bench.Into("Q2", "collector");
        double up = bench.With("V1", "value", 1).Into("Q2", "collector");
        Expect.Within(cents, Expect.Cents(at0, up) - 1200, 2e-6); // 1e-6 for the row's digits, 1e-6 for ours at 1200 cents
    }

    [Theory]
    [InlineData(100e-6, 0.5, -3.36259491, -3.36913247)]
    [InlineData(500e-6, 0.4, -13.3728321, -13.4765299)]
    [InlineData(1e-3, 1, -64.9032669, -67.3826493)]
    public void Bulk_emitter_resistance_flattens_as_Lambert_W_says(double amperes, double ohms, double exact, double first)
    {
        // Corless and others, On the Lambert W function, Adv. Comp. Math. 5 (1996) 329: I = (VT/r)·W(I0·r/VT); emitter
        // resistance after Gray and Meyer. The first-order figure is the adjoint's slope at no resistance, times r.
        Bench bench = new(
            """
            circuit:
              I1: {current source: 100 uA, from: 0 V, to: b}
              Q1: {npn: ideal, collector: b, base: b, emitter: 0 V, forward gain: 1e12, saturation current: 0.1 fA}
              V1: {voltage source: 5 V, plus: c, minus: 0 V}
              Q2: {npn: ideal, collector: c, base: b, emitter: 0 V, forward gain: 1e12, saturation current: 0.1 fA, emitter resistance: 1R}
              R1: {resistor: 1k, from: c, to: d}
              Q3: {npn: ideal, collector: d, base: b, emitter: e, forward gain: 1e12, saturation current: 0.1 fA}
              R2: {resistor: 1e-5, from: e, to: 0 V}
            """
        );
        bench.With("I1", "value", amperes).With("Q2", "emitter resistance", ohms);
        double ideal = bench.Into("Q1", "collector");
        Expect.Within(exact, Expect.Cents(ideal, bench.Into("Q2", "collector")), 1e-6);
        double slope = -bench.Slope("d", "R2", "value") / 1e3; // A/Ω
        Expect.Within(first, 1200 / Math.Log(2) * slope * ohms / ideal, 1e-5 * Math.Abs(first));
    }

    [Theory]
    [InlineData(1e-3, 67.3826493)]
    [InlineData(50e-6, 3.36913247)]
    public void An_offset_between_a_pairs_bases_moves_the_pitch(double volts, double cents)
    {
        // From VT·ln2 an octave, above.
        Bench bench = new(
            """
            circuit:
              pair A: {matched pair: ideal}
              V2: {voltage source: 5 V, plus: load, minus: 0 V}
              V3: {voltage source: 12 V, plus: +12 V, minus: 0 V}
              V4: {voltage source: -12 V, plus: -12 V, minus: 0 V}
              I1: {current source: 10 uA, from: +12 V, to: reference}
              Q1: {npn: pair A, collector: reference, base: 0 V, emitter: tail}
              Q2: {npn: pair A, collector: load, base: 0 V, emitter: tail}
              U1: {op amp: ideal, plus: 0 V, minus: reference, out: tail, supply: [+12 V, -12 V]}
            """
        );
        double even = bench.Into("Q2", "collector");
        double uneven = bench.With("Q2", "offset", volts).Into("Q2", "collector");
        Expect.Within(-cents, Expect.Cents(even, uneven), 1e-6); // a base that needs more voltage lets less current through
    }

    [Fact]
    public void A_hundred_picoampere_of_leakage_lifts_a_hundred_nanoampere_by_1_73_cents()
    {
        // Arithmetic: 1200·log2(1.001). The leakage is the reset transistor's, from drain to gate.
        Bench bench = new(
            """
            circuit:
              I1: {current source: 100 nA, from: saw, to: 0 V}
              C1: {capacitor: 1n, starts at: 5 V, from: saw, to: 0 V}
              V1: {voltage source: -12 V, plus: gate, minus: 0 V}
              Q1: {n jfet: ideal, drain: saw, gate: gate, source: 0 V, threshold: -3 V, leakage: 0 A, saturation current: 1e-24 A}
            """
        );
        double dry = bench.Times(bench.Falling("saw", 1), 50e-3)[0];
        double leaky = bench.With("Q1", "leakage", 100e-12).Times(bench.Falling("saw", 1), 50e-3)[0];
        Expect.Within(1.73036901, Expect.Cents(1 / dry, 1 / leaky), 2e-5);
    }

    [Theory]
    [InlineData(310.15, 4.40180543572)]
    [InlineData(323.15, 26.4688785542)]
    public void The_saturation_current_grows_by_its_temperature_law(double kelvin, double ratio)
    {
        // Massobrio and Antognetti, Semiconductor Device Modeling, 2nd ed. 1993, ch. 2; Getreu, Modeling the Bipolar
        // Transistor, 1976. A reverse-biased junction lets exactly its saturation current through.
        Bench bench = new(
            """
            circuit:
              V1: {voltage source: 5 V, plus: k, minus: 0 V}
              D1: {diode: ideal, anode: 0 V, cathode: k, saturation current: 1e-14 A, emission coefficient: 1,
                energy gap: 1.11 eV, saturation exponent: 3, nominal temperature: 300.15 K}
            """,
            300.15
        );
        double cold = bench.Into("D1", "cathode");
        Expect.Relative(1e-14, cold, 1e-9);
        Expect.Relative(ratio, bench.At(kelvin).Into("D1", "cathode") / cold, 1e-9);
    }

    [Fact]
    public void A_base_voltage_at_100_microampere_falls_by_1_977_millivolt_a_kelvin()
    {
        // The same law and source.
        Bench bench = new(DiodeConnected, 300.15);
        double cold = bench["b"];
        double warm = bench.At(310.15)["b"];
        Expect.Within(0.595561925473, cold, 1e-11);
        Expect.Within(0.575794764686, warm, 1e-11);
        Expect.Within(-1.97671608e-3, (warm - cold) / 10, 1e-11);
    }

    [Fact]
    public void A_transistor_carries_the_collector_current_of_Gummel_and_Poon()
    {
        // Gummel and Poon, BSTJ 49 (1970) 827, in the form of Massobrio and Antognetti ch. 2.
        Bench bench = new(
            """
            circuit:
              V1: {voltage source: 0.65 V, plus: b, minus: 0 V}
              V2: {voltage source: 5 V, plus: c, minus: 0 V}
              Q1: {npn: ideal, collector: c, base: b, emitter: 0 V, saturation current: 1e-14 A,
                forward Early voltage: 80 V, forward knee current: 50 mA, reverse gain: 1e6}
            """,
            300.15
        );
        double full = bench.Into("Q1", "collector");
        Expect.Relative(0.851334518902e-3, full, 1e-10);
        double low = bench.With("Q1", "forward knee current", double.PositiveInfinity).Into("Q1", "collector");
        double plain = bench.With("Q1", "forward Early voltage", double.PositiveInfinity).Into("Q1", "collector");
        Expect.Relative(0.948429164197, plain / low, 1e-10); // q1: no knee
        Expect.Relative(0.963744976620, plain / full, 1e-10); // qb
        bench.With("Q1", "forward Early voltage", 80).With("Q1", "forward knee current", 0.05);
        bench.With("Q1", "reverse Early voltage", 10).With("V1", "value", 0.75).With("V2", "value", 1.75);
        double high = bench.Into("Q1", "collector");
        Expect.Relative(24.2220070951e-3, high, 1e-10);
        foreach (string word in (string[])["forward Early voltage", "reverse Early voltage", "forward knee current"])
            bench.With("Q1", word, double.PositiveInfinity);
        Expect.Relative(1.617851894787, bench.Into("Q1", "collector") / high, 1e-10);
    }

    [Theory]
    [InlineData(18e-3, 0.336637760647)]
    [InlineData(2 * 25.6925791211e-3, 0.761594155956)]
    [InlineData(17.808738779094e-3, 1.0 / 3)] // I1/I2 = 2
    public void A_differential_pair_shares_its_tail_as_tanh(double volts, double share)
    {
        // Gray and Meyer, ch. 3.
        Bench bench = new(
            """
            circuit:
              V1: {voltage source: 0 V, plus: left, minus: 0 V}
              V2: {voltage source: 5 V, plus: +5 V, minus: 0 V}
              I1: {current source: 1 mA, from: tail, to: 0 V}
              Q1: {npn: ideal, collector: +5 V, base: left, emitter: tail, forward gain: 1e12, saturation current: 0.1 fA}
              R1: {resistor: 100R, from: +5 V, to: right load}
              Q2: {npn: ideal, collector: right load, base: 0 V, emitter: tail, forward gain: 1e12, saturation current: 0.1 fA}
            """
        );
        bench.With("V1", "value", volts);
        double left = bench.Into("Q1", "collector");
        double right = bench.Into("Q2", "collector");
        Expect.Within(share, (left - right) / 1e-3, 2e-12);
    }
}
