using Xunit;

namespace Consort.Tests.Circuit.Parts;

/// <summary>Shichman & Hodges, IEEE JSSC SC-3 (1968) 285, in the letters of Massobrio & Antognetti ch. 3 and 4 (from
/// memory): the expected values are the closed forms by hand.</summary>
public sealed class FieldEffectTests
{
    [Theory]
    // β = 1 mA/V², VTO = −2 V, λ = 0.02/V. Saturation: β·(vgs + 2)²·(1 + λ·vds); below: β·vds·(2(vgs + 2) − vds)·(1 + λ·vds).
    [InlineData(0, 5, 4 * 1.1)]
    [InlineData(-1, 5, 1.1)]
    [InlineData(0, 1, 3 * 1.02)]
    [InlineData(-2.5, 5, 0)]
    // Turned round: the drain 1 V below the source acts as the source, so vgs counts from it.
    [InlineData(-1, -1, -3 * 1.02)]
    public void A_junction_fet_follows_the_square_law_both_ways(double vgs, double vds, double milliamperes)
    {
        foreach ((string kind, int sign) in (ReadOnlySpan<(string, int)>)[("n jfet", 1), ("p jfet", -1)])
        {
            Rig rig = new(
                $$"""
                J1: {{{kind}}: own, threshold: -2 V, transconductance: 1 mA/V², channel modulation: 0.02 /V, drain resistance: 0 ohm, source resistance: 0 ohm, gate-source capacitance: 0 F, gate-drain capacitance: 0 F, gate potential: 1 V, saturation current: 1e-30 A, leakage: 0 A, threshold drift: 0 V/K, gain exponent: 0, nominal temperature: 25 °C, drain: d, gate: g, source: 0 V}
                VG: {voltage source: {{sign * vgs}} V, plus: g, minus: 0 V}
                VD: {voltage source: {{sign * vds}} V, plus: d, minus: 0 V}
                """
            );
            Assert.Equal(sign * milliamperes * 1e-3, rig.Current("J1", "drain"), 1e-13);
        }
    }

    [Theory]
    // K = 2 mA/V², VTO = 1 V, γ = 0.5 √V, φ = 0.6 V: VT = 1 + 0.5·(√(0.6 + vsb) − √0.6); id = K/2·(vgs − VT)² or
    // K·(vgs − VT − vds/2)·vds.
    [InlineData(3, 5, 0, 4)]
    [InlineData(3, 1, 0, 3)]
    [InlineData(3, 5, 3, 2.069613223445958)]
    [InlineData(0.5, 5, 0, 0)]
    public void A_mosfet_follows_the_square_law_with_its_body(double vgs, double vds, double vsb, double milliamperes)
    {
        foreach ((string kind, int sign) in (ReadOnlySpan<(string, int)>)[("n mosfet", 1), ("p mosfet", -1)])
        {
            Rig rig = new(
                $$"""
                M1: {{{kind}}: own, threshold: 1 V, transconductance: 2 mA/V², channel modulation: 0 /V, body effect: 0.5 V^0.5, surface potential: 0.6 V, drain resistance: 0 ohm, source resistance: 0 ohm, gate-source capacitance: 0 F, gate-drain capacitance: 0 F, drain-source capacitance: 0 F, saturation current: 1e-30 A, leakage: 0 A, threshold drift: 0 V/K, nominal temperature: 25 °C, drain: d, gate: g, source: s, body: b}
                VS: {voltage source: {{sign * 2}} V, plus: s, minus: 0 V}
                VG: {voltage source: {{sign * vgs}} V, plus: g, minus: s}
                VD: {voltage source: {{sign * vds}} V, plus: d, minus: s}
                VB: {voltage source: {{-sign * vsb}} V, plus: b, minus: s}
                """
            );
            Assert.Equal(sign * milliamperes * 1e-3, rig.Current("M1", "drain"), 1e-12);
        }
    }

    [Fact]
    public void Leakage_doubles_every_ten_kelvin()
    {
        Assert.Equal(2, Leak(308.15) / Leak(298.15), 1e-9);

        static double Leak(double kelvin) =>
            new Rig(
                """
                J1: {n jfet: J112, saturation current: 1e-30 A, leakage: 10 pA, drain: d, gate: g, source: s}
                VG: {voltage source: -8 V, plus: g, minus: 0 V}
                VD: {voltage source: 5 V, plus: d, minus: 0 V}
                VS: {voltage source: 0 V, plus: s, minus: 0 V}
                """,
                kelvin
            ).Current("J1", "drain");
    }
}
