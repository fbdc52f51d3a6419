using Consort.Engine.Circuit;
using Consort.Engine.Circuit.Motion;
using Xunit;

namespace Consort.Tests.Circuit.Properties;

/// <summary>What charges do in motion, whatever the steps: the method is in charge form.</summary>
public sealed class ChargeTests
{
    // Capacitors whose capacitance changes with voltage, on an island that only charges cross into. A solver that sums
    // C·dv/dt loses charge there.
    private const string Island = """
        circuit:
          V1: {voltage source: 0 V, amplitude: 5 V, frequency: 10 kHz, plus: drive, minus: 0 V}
          C1: {capacitor: 1n, starts at: 0 V, from: drive, to: island}
          Q1: {charge law: "1e-9 * [island] * (1 + 0.2 * [island]^2)", from: island, to: 0 V}
          Q2: {charge law: "2e-10 * tanh([island] - [other])", from: island, to: other}
          C2: {capacitor: 1n, from: other, to: 0 V}
          R1: {resistor: 10k, from: other, to: 0 V}
          G1: {law: "0", from: island, to: 0 V}
        """;

    [Theory]
    [InlineData(1e-2)]
    [InlineData(1e-4)]
    public void The_charge_of_an_island_of_junctions_stays_what_it_was(double relative)
    {
        Bench bench = new(Island);
        int row = bench.Circuit.Net("island");
        Transient run = bench.Start(new Accuracy(relative));
        double before = Charge(bench, run.X, row);
        double largest = 0;
        run.Accepted = (_, x) => largest = Math.Max(largest, Math.Abs(Charge(bench, x, row) - before));
        Bench.Run(run, 1e-3);
        // 5 nC go to and fro; what the stages leave over is a millionth of the step's tolerance.
        Assert.True(largest < 5e-9 * relative * 1e-3, $"{largest:E2} C went astray in {run.Steps} steps");
    }

    [Theory]
    [InlineData(1e-3)]
    [InlineData(10e-3)]
    public void Without_Newton_it_strays_by_what_a_step_may_and_not_further_with_time(double until)
    {
        Bench bench = new(Island);
        int row = bench.Circuit.Net("island");
        Transient run = bench.Start(new Accuracy(1e-4, Linear: true));
        double before = Charge(bench, run.X, row);
        double largest = 0;
        run.Accepted = (_, x) => largest = Math.Max(largest, Math.Abs(Charge(bench, x, row) - before));
        Bench.Run(run, until);
        Assert.InRange(largest, 0, 5e-9 * 1e-4);
    }

    private static double Charge(Bench bench, double[] x, int row)
    {
        x.CopyTo(bench.Circuit.Pass.X, 0);
        bench.Circuit.Evaluate(0, Regime.Motion);
        return bench.Circuit.Pass.Q[row];
    }
}
