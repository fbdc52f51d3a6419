using Consort.Engine.Circuit;
using Xunit;

namespace Consort.Tests.Circuit.Parts;

/// <summary>Transconductance amplifiers, references and regulators through bank and solver.</summary>
public sealed class AmplifierTests
{
    private const string Supplies = """
        VP: {voltage source: 15 V, plus: p, minus: 0 V}
        VN: {voltage source: -15 V, plus: n, minus: 0 V}
        """;

    [Theory]
    // (I1 − I2)/IT = tanh(v/2VT) at 298.15 K: Gray, Hurst, Lewis, Meyer ch. 3.
    [InlineData(18e-3, 0.336637760647)]
    [InlineData(2 * 25.6925791211e-3, 0.761594155956)]
    [InlineData(-18e-3, -0.336637760647)]
    public void A_transconductance_amplifier_follows_the_hyperbolic_tangent(double drive, double expected)
    {
        Rig rig = Amplifier(drive);
        double bias = rig.Current("U1", "bias");
        Assert.Equal(500e-6, bias, 1e-12);
        Assert.Equal(-expected, rig.Current("U1", "out") / bias, 1e-9);
    }

    [Fact]
    public void Its_currents_come_from_the_supplies()
    {
        Rig rig = Amplifier(18e-3);
        string[] terminals = ["plus", "out", "bias", "supply +", "supply -"];
        Assert.Equal(0, terminals.Sum(terminal => rig.Current("U1", terminal)), 1e-15);
        Assert.Equal(2, rig.Current("U1", "supply +") / rig.Current("U1", "bias"), 1e-9);
    }

    [Fact]
    public void Its_output_stops_at_its_headroom()
    {
        Rig rig = new(
            $$"""
            {{Supplies}}
            U1: {ota: ideal, headroom high: 0.8 V, plus: i, minus: 0 V, out: o, bias: b, supply: [p, n]}
            V1: {voltage source: 1 V, plus: i, minus: 0 V}
            IB: {current source: 500 µA, from: 0 V, to: b}
            R1: {resistor: 1M, from: o, to: 0 V}
            """
        );
        Assert.Equal(14.2, rig["o"], 0.01);
    }

    [Fact]
    public void A_regulator_holds_its_voltage_until_its_headroom_is_gone()
    {
        Rig rig = Regulator("12 V");
        // 5 V over the output is where the value holds; 2 V more count by the line rejection: 2/1000. Load 1 mA in 0.1 Ω.
        Assert.Equal(5 + 2e-3 - 1e-4, rig["o"], 1e-6);
        Assert.Equal(4e-3 + 1e-3, rig.Current("U1", "in"), 1e-5);
        // 6 V leave 4 V.
        Assert.Equal(4, Regulator("6 V")["o"], 1e-3);
        Assert.Equal(0, Regulator("0 V")["o"], 1e-3);
    }

    [Fact]
    public void A_negative_regulator_is_the_mirror_of_a_positive_one()
    {
        Rig rig = new(
            """
            V1: {voltage source: -12 V, plus: i, minus: 0 V}
            U1: {regulator: -5 V, line rejection: 1000, output resistance: 0.1, supply current: 4 mA, in: i, out: o, ground: 0 V}
            R1: {resistor: 5k, from: o, to: 0 V}
            """
        );
        Assert.Equal(-Regulator("12 V")["o"], rig["o"], 1e-12);
    }

    [Fact]
    public void A_reference_follows_its_temperature_coefficient_and_its_limit()
    {
        Rig rig = new(
            """
            V1: {voltage source: 15 V, plus: i, minus: 0 V}
            U1: {reference: 10 V, tempco: 50 ppm/K, current limit: 20 mA, in: i, out: o, ground: 0 V}
            R1: {resistor: 10M, from: o, to: 0 V}
            """,
            308.15
        );
        Assert.Equal(10 * 1.0005, rig["o"], 1e-6);
        rig.With("R1", "value", 10);
        Assert.Equal(0.2, rig["o"], 0.005); // 20 mA and a thousandth more per volt, into 10 Ω
    }

    private static Rig Regulator(string input) =>
        new(
            $$"""
            V1: {voltage source: {{input}}, plus: i, minus: 0 V}
            U1: {regulator: 5 V, line rejection: 1000, output resistance: 0.1, supply current: 4 mA, in: i, out: o, ground: 0 V}
            R1: {resistor: 5k, from: o, to: 0 V}
            """
        );

    private static Rig Amplifier(double drive) =>
        new(
            $$"""
            {{Supplies}}
            U1: {ota: ideal, plus: i, minus: 0 V, out: o, bias: b, supply: [p, n]}
            V1: {voltage source: {{drive:R}} V, plus: i, minus: 0 V}
            V2: {voltage source: 0 V, plus: o, minus: 0 V}
            IB: {current source: 500 µA, from: 0 V, to: b}
            """
        );
}
