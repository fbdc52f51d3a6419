using Consort.Engine.Circuit.Motion;
using Xunit;

namespace Consort.Tests.Circuit.Published;

/// <summary>Steps into linear networks, whose answers are known in closed form.</summary>
public sealed class StepTests
{
    private static readonly Accuracy Tight = Accuracy.Strict(1e-11, 1e-13);

    private const string Resonance = """
        circuit:
          V1: {voltage source: 1 V, plus: step, minus: 0 V}
          R1: {resistor: 40R, from: step, to: coil}
          L1: {inductor: 1 mH, starts at: 0 A, from: coil, to: tank}
          C1: {capacitor: 100n, starts at: 0 V, from: tank, to: 0 V}
        """;

    [Theory]
    [InlineData(1, 0.632120558829)]
    [InlineData(2.5, 0.917915001376)]
    [InlineData(5, 0.993262053001)]
    public void A_capacitor_charges_by_its_exponential(double timeConstants, double share)
    {
        // Any textbook. rel 1e-9: the run's own tolerance over some hundred steps.
        Bench bench = new(
            """
            circuit:
              V1: {voltage source: 1 V, plus: in, minus: 0 V}
              R1: {resistor: 10k, from: in, to: out}
              C1: {capacitor: 10n, starts at: 0 V, from: out, to: 0 V}
            """
        );
        Expect.Relative(share, bench.After(timeConstants * 100e-6, Tight)[bench.Circuit.Net("out")], 1e-9);
    }

    [Fact]
    public void Five_volt_settle_to_a_cent_in_8_7_time_constants()
    {
        // ln(5·1200): arithmetic.
        Bench bench = new(
            """
            circuit:
              V1: {voltage source: 5 V, plus: in, minus: 0 V}
              R1: {resistor: 10k, from: in, to: out}
              C1: {capacitor: 10n, starts at: 0 V, from: out, to: 0 V}
            """
        );
        double[] times = bench.Times(bench.Rising("out", 5 - 1.0 / 1200), 1.5e-3, Tight);
        Expect.Relative(8.69951474821, Assert.Single(times) / 100e-6, 1e-7); // an error of 1e-10 V there is 1.2e-7 of RC
    }

    [Theory]
    [InlineData(20e-6, 1.12748444506)]
    [InlineData(50e-6, 1.00554445182)]
    [InlineData(100e-6, 1.13609204760)]
    public void A_series_resonance_rings_as_its_closed_form(double time, double volts)
    {
        // Desoer and Kuh, Basic Circuit Theory, 1969: a = 20000 /s, w0 = 1e5 /s, Q = 2.5. From memory.
        Bench bench = new(Resonance);
        Expect.Relative(volts, bench.After(time, Tight)[bench.Circuit.Net("tank")], 1e-9);
    }

    [Fact]
    public void A_series_resonance_overshoots_by_0_5266_at_32_064_microseconds()
    {
        // The same; at the peak no current flows, so that the resistor drops nothing.
        Bench bench = new(Resonance);
        Transient run = bench.Start(Tight, null, bench.Rising("coil", 1));
        while (run.Crossings.Count == 0)
            Assert.Null(run.Step(50e-6));
        Expect.Relative(32.0637457540e-6, run.Time, 1e-8);
        Expect.Within(0.526620599330, run.X[bench.Circuit.Net("tank")] - 1, 1e-9);
    }
}
