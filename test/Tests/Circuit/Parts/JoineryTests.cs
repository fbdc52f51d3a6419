using Consort.Engine.Circuit.Signal;
using Xunit;

namespace Consort.Tests.Circuit.Parts;

/// <summary>Cords, ribbons and jacks through bank and solver.</summary>
public sealed class JoineryTests
{
    [Theory]
    // ASTM B258 geometry, IEC 60028 resistivity at 20 °C, for one metre (confirmed by the table value 212.87 Ω/km).
    [InlineData(24, 0.0842132)]
    [InlineData(26, 0.133904)]
    [InlineData(28, 0.212916)]
    [InlineData(30, 0.338550)]
    public void A_ribbons_wire_has_the_resistance_of_its_gauge(double gauge, double expected) =>
        Assert.Equal(expected, Metre(gauge, 293.15), 1e-6);

    [Fact]
    public void A_ribbons_copper_warms_by_its_temperature_coefficient()
    {
        // IEC 60028, 0.00393/K from 20 °C (from memory): 28 AWG at 60 °C, 0.24636788 Ω/m from 0.2129.
        Assert.Equal(0.24636788 / 0.2129, Metre(28, 333.15) / Metre(28, 293.15), 1e-9);
    }

    [Fact]
    public void Half_an_ampere_through_a_ribbon_and_its_contacts_drops_52_millivolts()
    {
        // 0.5 A through 0.3 m of 28 AWG and two contacts of 20 mΩ, one way: 51.935 mV (arithmetic).
        Rig rig = new(
            """
            I1: {current source: 0.5 A, from: 0 V, to: a}
            W1: {ribbon: 0.3 m, gauge: 28, contact resistance: 40 mohm, wires: [[a, b], [c, 0 V]]}
            R1: {resistor: 1m, from: b, to: 0 V}
            R2: {resistor: 1k, from: c, to: 0 V}
            """,
            293.15
        );
        Assert.Equal(51.935e-3, rig["a"] - rig["b"], 5e-6);
    }

    [Fact]
    public void A_ribbon_holds_its_capacitances_half_at_either_end()
    {
        // 50 pF/m to 0 V and 30 pF/m to the neighbour, 2 m, with the neighbour held: 160 pF between wire and 0 V.
        Rig rig = new(
            """
            I1: {current source: 0 A, small signal: 1 A, from: 0 V, to: a}
            W1: {ribbon: 2 m, capacitance: 50 pF/m, coupling: 30 pF/m, wires: [[a, b], [0 V, 0 V]]}
            R1: {resistor: 1e12, from: b, to: 0 V}
            """
        );
        double size = new SmallSignal(rig.Circuit, rig.State).Response(1e3)![rig.Circuit.Net("a")].Magnitude;
        Assert.Equal(160e-12, 1 / (2 * Math.PI * 1e3 * size), 1e-15);
    }

    [Fact]
    public void A_cord_is_its_conductor_and_both_plugs()
    {
        Rig rig = new(
            """
            V1: {voltage source: 1 V, plus: a, minus: 0 V}
            W1: {cord: 60 cm, resistance: 0.2 ohm/m, contact resistance: 40 mohm, from: a, to: b}
            R1: {resistor: 1k, from: b, to: 0 V}
            """
        );
        Assert.Equal(1000 / 1000.16, rig["b"], 1e-12);
    }

    [Fact]
    public void A_jack_with_nothing_plugged_in_takes_its_normal()
    {
        Rig rig = new(
            """
            V1: {voltage source: 1 V, plus: a, minus: 0 V}
            J1: {jack: input, label: fm, tip: t, normal: a, contact resistance: 1 ohm}
            R1: {resistor: 999 ohm, from: t, to: 0 V}
            """
        );
        Assert.Equal(0.999, rig["t"], 1e-12);
    }

    private static double Metre(double gauge, double kelvin)
    {
        Rig rig = new(
            $$"""
            I1: {current source: 1 A, from: 0 V, to: a}
            W1: {ribbon: 1 m, gauge: {{gauge}}, contact resistance: 0 ohm, wires: [[a, b]]}
            V1: {voltage source: 0 V, plus: b, minus: 0 V}
            """,
            kelvin
        );
        return rig["a"];
    }
}
