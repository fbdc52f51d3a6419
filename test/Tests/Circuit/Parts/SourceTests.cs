using Consort.Engine.Circuit;
using Consort.Engine.Circuit.Motion;
using Xunit;

namespace Consort.Tests.Circuit.Parts;

/// <summary>Sources and laws: their own definitions by hand.</summary>
public sealed class SourceTests
{
    [Theory]
    // From 1 V to 5 V at 10 ms in 2 ms, back at 20 ms in 2 ms, every 40 ms.
    [InlineData(0, 1)]
    [InlineData(10e-3, 1)]
    [InlineData(11e-3, 3)]
    [InlineData(15e-3, 5)]
    [InlineData(21e-3, 3)]
    [InlineData(30e-3, 1)]
    [InlineData(51e-3, 3)]
    [InlineData(55e-3, 5)]
    public void A_source_steps_as_it_is_told(double time, double expected)
    {
        Rig rig = new(
            """
            V1: {voltage source: 5 V, before: 1 V, starts: 10 ms, rise: 2 ms, lasts: 10 ms, every: 40 ms, plus: a, minus: 0 V}
            R1: {resistor: 1k, from: a, to: 0 V}
            """
        );
        Assert.Equal(expected, At(rig, time), 1e-9);
    }

    [Fact]
    public void Every_corner_of_a_step_is_announced_once()
    {
        Rig rig = new(
            """
            I1: {current source: 1 mA, before: 0 A, starts: 10 ms, rise: 2 ms, lasts: 10 ms, every: 40 ms, from: 0 V, to: a}
            R1: {resistor: 1k, from: a, to: 0 V}
            """
        );
        ICornered source = (ICornered)rig.Circuit.Find("I1").Bank;
        List<double> corners = [];
        for (double time = 0; corners.Count < 9; time = corners[^1])
            corners.Add(source.NextCorner(time));
        double[] expected = [10e-3, 12e-3, 20e-3, 22e-3, 50e-3, 52e-3, 60e-3, 62e-3, 90e-3];
        for (int i = 0; i < expected.Length; i++)
            Assert.Equal(expected[i], corners[i], 1e-15);
    }

    [Fact]
    public void A_sinusoid_has_its_amplitude_frequency_and_phase()
    {
        Rig rig = new(
            """
            V1: {voltage source: 1 V, amplitude: 2 V, frequency: 50 Hz, phase: 0.25, plus: a, minus: 0 V}
            R1: {resistor: 1k, from: a, to: 0 V}
            """
        );
        Assert.Equal(3, At(rig, 0), 1e-9);
        Assert.Equal(1, At(rig, 5e-3), 1e-9);
        Assert.Equal(-1, At(rig, 10e-3), 1e-9);
    }

    [Fact]
    public void A_law_is_the_current_that_its_formula_says()
    {
        // A differential pair by formula: tanh(18 mV/2VT) = 0.336637760647 at 298.15 K (Gray & Meyer ch. 3).
        Rig rig = new(
            """
            V1: {voltage source: 18 mV, plus: v, minus: 0 V}
            R2: {resistor: 1k, from: v, to: 0 V}
            G1: {law: "1e-3 * tanh([v] / (2 * k * T / q))", from: 0 V, to: o}
            R1: {resistor: 1k, from: o, to: 0 V}
            """
        );
        Assert.Equal(0.336637760647, rig["o"], 1e-11);
    }

    [Fact]
    public void A_charge_law_moves_as_a_capacitor_of_that_charge()
    {
        // q = 1 nF·v: charges through 1 kΩ as a capacitor does, 1 − 1/e after 1 µs.
        Rig rig = new(
            """
            V1: {voltage source: 1 V, before: 0 V, rise: 1e-12 s, plus: a, minus: 0 V}
            R1: {resistor: 1k, from: a, to: b}
            G1: {charge law: "1e-9 * [b]", from: b, to: 0 V}
            """
        );
        Transient run = new(rig.Circuit, Accuracy.Strict(1e-9, 1e-12));
        run.Start(rig.State.X);
        Assert.Null(run.RunTo(1e-6));
        Assert.Equal(0.632120558829, run.X[rig.Circuit.Net("b")], 1e-6); // the step takes a picosecond
    }

    [Fact]
    public void A_source_by_formula_may_lean_on_other_nets()
    {
        Rig rig = new(
            """
            V1: {voltage source: 2 V, plus: a, minus: 0 V}
            R1: {resistor: 1k, from: a, to: 0 V}
            V2: {voltage source: "[a]^2 + 0.1 * [b]", plus: b, minus: 0 V}
            R2: {resistor: 1k, from: b, to: 0 V}
            """
        );
        Assert.Equal(4 / 0.9, rig["b"], 1e-12);
    }

    private static double At(Rig rig, double time)
    {
        rig.State.X.CopyTo(rig.Circuit.Pass.X, 0);
        rig.Circuit.Evaluate(time, Regime.Motion);
        // The branch's row is v − V(t), and v is what the source had at time zero.
        int branch = Array.FindIndex(rig.Circuit.Unknowns, unknown => unknown.Name == "V1 current");
        return rig["a"] - rig.Circuit.Pass.F[branch];
    }
}
