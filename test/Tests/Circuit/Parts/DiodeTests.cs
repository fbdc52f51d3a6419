using Consort.Engine.Circuit;
using Xunit;

namespace Consort.Tests.Circuit.Parts;

/// <summary>Diodes and breakdown diodes through the bank and the solver.</summary>
public sealed class DiodeTests
{
    [Fact]
    public void A_diode_behind_a_resistor_takes_the_current_of_the_Lambert_function()
    {
        // Banwell & Jayakumar, Electronics Letters 36 (2000) 291 (from memory): Is 1e-14 A, n·VT 25.85 mV, 5 V, 1 kΩ:
        // 4.30750962478 mA, 0.692490375224 V. The slope is met by the emission coefficient.
        double emission = 25.85e-3 / Constants.ThermalVoltage(300.15);
        Rig rig = new(
            $$"""
            V1: {voltage source: 5 V, plus: a, minus: 0 V}
            R1: {resistor: 1k, from: a, to: d}
            D1: {diode: ideal, saturation current: 10 fA, emission coefficient: {{emission:R}}, anode: d, cathode: 0 V}
            """,
            300.15
        );
        Assert.Equal(0.692490375224, rig["d"], 1e-10);
        Assert.Equal(4.30750962478e-3, rig.Current("D1", "anode"), 1e-10 * 4.3e-3);
    }

    [Fact]
    public void A_breakdown_diode_passes_through_its_stated_point_with_its_stated_slope()
    {
        // The definition of the data-sheet figures: Vz at Izt, and Zzt = dV/dI there.
        Rig At(double amperes) =>
            new(
                $$"""
                I1: {current source: {{amperes:R}} A, from: 0 V, to: k}
                D1: {zener: 5.1 V, test current: 5 mA, dynamic resistance: 17 ohm, anode: 0 V, cathode: k}
                """
            );
        Assert.Equal(5.1, At(5e-3)["k"], 1e-9);
        Assert.Equal(17, (At(5.001e-3)["k"] - At(4.999e-3)["k"]) / 2e-6, 1e-4);
        Assert.InRange(At(-5e-3)["k"], -0.8, -0.6); // forward, it is a silicon diode
    }

    [Fact]
    public void A_breakdown_diode_of_small_slope_follows_temperature_by_its_coefficient()
    {
        Rig rig = new(
            """
            I1: {current source: 1 mA, from: 0 V, to: k}
            D1: {zener: 2.5 V, test current: 1 mA, dynamic resistance: 0.3 ohm, tempco: 100 ppm/K, anode: 0 V, cathode: k}
            """,
            308.15
        );
        Assert.Equal(2.5 * 1.001, rig["k"], 1e-9);
    }

    [Fact]
    public void A_reverse_biased_diode_breaks_down_at_its_voltage()
    {
        Rig rig = new(
            """
            I1: {current source: 1 mA, from: 0 V, to: k}
            D1: {diode: ideal, breakdown voltage: 60 V, breakdown current: 1 mA, anode: 0 V, cathode: k}
            """
        );
        Assert.Equal(60, rig["k"], 1e-6);
    }
}
