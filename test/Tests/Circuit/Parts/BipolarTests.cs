using Consort.Engine.Circuit;
using Xunit;

namespace Consort.Tests.Circuit.Parts;

/// <summary>Through the bank and the solver. Sources are cited from memory unless a test says otherwise.</summary>
public sealed class BipolarTests
{
    private const double Ambient = 300.15;

    [Fact]
    public void Base_voltage_falls_with_temperature_as_the_saturation_current_grows()
    {
        // Is(T) law: Massobrio & Antognetti, Semiconductor Device Modeling, 2nd ed. 1993, ch. 2; Getreu 1976.
        // Is0 = 1e-14 A at 300.15 K, XTI 3, Eg 1.11 eV, 100 µA: 0.595561925473 V, and 0.575794764686 V 10 K warmer.
        double cold = BaseVoltage(300.15);
        double warm = BaseVoltage(310.15);
        Assert.Equal(0.595561925473, cold, 1e-9);
        Assert.Equal(0.575794764686, warm, 1e-9);
        Assert.Equal(-1.97671608e-3, (warm - cold) / 10, 1e-10);
        Assert.Equal(26.4688785542, Saturation(323.15) / Saturation(300.15), 26.5e-9);
        Assert.Equal(4.40180543572, Saturation(310.15) / Saturation(300.15), 4.4e-9);

        // Collector joined to base, gains of 1e9: all but a billionth of the current is the collector's.
        static double BaseVoltage(double kelvin) =>
            new Rig(
                """
                Q1: {npn: ideal, saturation current: 10 fA, forward gain: 1e9, reverse gain: 1e9, collector: b, base: b, emitter: 0 V}
                I1: {current source: 100 µA, from: 0 V, to: b}
                """,
                kelvin
            )["b"];

        static double Saturation(double kelvin) =>
            new Rig(
                """
                Q1: {npn: ideal, saturation current: 10 fA, forward gain: 1e9, reverse gain: 1e9, collector: c, base: b, emitter: 0 V}
                V1: {voltage source: 0.5 V, plus: b, minus: 0 V}
                V2: {voltage source: 0.5 V, plus: c, minus: 0 V}
                """,
                kelvin
            ).Current("Q1", "collector") / (Math.Exp(0.5 / Constants.ThermalVoltage(kelvin)) - 1);
    }

    [Theory]
    // Gummel & Poon, BSTJ 49 (1970) 827; Massobrio & Antognetti ch. 2. Is 1e-14, VAF 80, IKF 0.05, 300.15 K.
    [InlineData("infinite", 0.65, -4.35, 0.851334518902e-3)]
    [InlineData("10 V", 0.75, -1, 24.2220070951e-3)]
    public void Collector_current_is_that_of_Gummel_and_Poon(
        string reverseEarly,
        double vbe,
        double vbc,
        double expected
    )
    {
        foreach ((string kind, int sign) in (ReadOnlySpan<(string, int)>)[("npn", 1), ("pnp", -1)])
        {
            Rig rig = new(
                $$"""
                Q1: {{{kind}}: ideal, saturation current: 10 fA, forward Early voltage: 80 V, reverse Early voltage: {{reverseEarly}}, forward knee current: 50 mA, collector: c, base: b, emitter: 0 V}
                VB: {voltage source: {{sign * vbe}} V, plus: b, minus: 0 V}
                VC: {voltage source: {{sign * (vbe - vbc)}} V, plus: c, minus: 0 V}
                """,
                Ambient
            );
            // The table has no base-collector current; the model's own, Is/BR = 1e-14 A, is below the tolerance.
            Assert.Equal(sign * expected, rig.Current("Q1", "collector"), 1e-10 * expected);
        }
    }

    [Theory]
    // Gray, Hurst, Lewis, Meyer, Analysis and Design of Analog ICs, ch. 3, at 298.15 K.
    [InlineData(18e-3, 0.336637760647)]
    [InlineData(2 * 25.6925791211e-3, 0.761594155956)]
    public void A_differential_pair_follows_the_hyperbolic_tangent(double drive, double expected)
    {
        Rig rig = Pair(drive);
        double first = rig.Current("Q1", "collector");
        double second = rig.Current("Q2", "collector");
        Assert.Equal(expected, (first - second) / (first + second), 1e-9);
    }

    [Fact]
    public void Two_halves_an_octave_apart_stand_17_8_millivolts_apart()
    {
        Rig rig = Pair(17.808738779094e-3);
        Assert.Equal(2, rig.Current("Q1", "collector") / rig.Current("Q2", "collector"), 1e-9);
    }

    [Theory]
    // I = I0·exp(−I·r/VT), I = (VT/r)·W0(I0·r/VT): emitter resistance in Gray & Meyer; Corless, Gonnet, Hare, Jeffrey,
    // Knuth, On the Lambert W function, Adv. Comp. Math. 5 (1996) 329.
    [InlineData(100e-6, 0.5, -3.36259491)]
    [InlineData(500e-6, 0.4, -13.3728321)]
    [InlineData(1e-3, 1, -64.9032669)]
    public void Emitter_resistance_flattens_the_converter(double current, double resistance, double cents)
    {
        double vbe = Constants.ThermalVoltage(298.15) * Math.Log(current / 1e-14 + 1);
        double without = Collector("0 ohm");
        double with = Collector(string.Create(System.Globalization.CultureInfo.InvariantCulture, $"{resistance} ohm"));
        Assert.Equal(current, without, 1e-10 * current);
        Assert.Equal(cents, 1200 * Math.Log2(with / without), 1e-5);

        double Collector(string emitter) =>
            new Rig(
                $$"""
                Q1: {npn: ideal, saturation current: 10 fA, forward gain: 1e9, nominal temperature: 25 °C, emitter resistance: {{emitter}}, collector: c, base: b, emitter: 0 V}
                VB: {voltage source: {{vbe:R}} V, plus: b, minus: 0 V}
                VC: {voltage source: {{vbe:R}} V, plus: c, minus: 0 V}
                """
            ).Current("Q1", "collector");
    }

    [Fact]
    public void The_second_of_a_pair_needs_the_offset_more_and_sits_at_the_gradient()
    {
        // 1 mV of base voltage at 298.15 K is 67.3826493 cent (VT·ln 2/1200 a cent, as Gray & Meyer ch. 1).
        Rig rig = Members("1 mV", "0 K");
        Assert.Equal(
            67.3826493,
            1200 * Math.Log2(rig.Current("Q1", "collector") / rig.Current("Q2", "collector")),
            1e-5
        );
        // A junction 1 K warmer than another carries what it would in a circuit 1 K warmer.
        double warmer = Members("0 V", "1 K").Current("Q2", "collector");
        Assert.Equal(Members("0 V", "0 K", 299.15).Current("Q2", "collector"), warmer, 1e-9 * warmer);

        static Rig Members(string offset, string gradient, double kelvin = 298.15) =>
            new(
                $$"""
                pair A: {matched pair: ideal, offset: {{offset}}, gradient: {{gradient}}}
                Q1: {npn: pair A, collector: c, base: b, emitter: 0 V}
                Q2: {npn: pair A, collector: c, base: b, emitter: 0 V}
                VB: {voltage source: 0.6 V, plus: b, minus: 0 V}
                VC: {voltage source: 5 V, plus: c, minus: 0 V}
                """,
                kelvin
            );
    }

    private static Rig Pair(double drive) =>
        new(
            $$"""
            Q1: {npn: ideal, forward gain: 1e9, collector: c, base: b, emitter: e}
            Q2: {npn: ideal, forward gain: 1e9, collector: c, base: 0 V, emitter: e}
            VB: {voltage source: {{drive:R}} V, plus: b, minus: 0 V}
            VC: {voltage source: 5 V, plus: c, minus: 0 V}
            I1: {current source: 1 mA, from: e, to: 0 V}
            """
        );
}
