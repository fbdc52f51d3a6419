using Consort.Engine.Circuit;
using Consort.Engine.Circuit.Motion;
using Consort.Engine.Pitch.Locking;
using Consort.Tests.Circuit;
using Consort.Tests.Circuit.Published;
using Xunit;

namespace Consort.Tests.Pitch.Locking;

/// <summary>The reduced model on circuits whose lock ranges are known: what is injected is a wave on a saw's threshold or a
/// current into a resonance.</summary>
public sealed class PhaseResponseTests
{
    private const int Cells = 1 << 16;

    // A saw of 5 V and 1 kHz; the threshold's row is moved.
    private static (PhaseResponse Response, double Sign) Saw()
    {
        Bench bench = Cores.Slowly(
            new(
                $$"""
                circuit:
                  I1: {current source: 5 uA, from: 0 V, to: saw}
                  C1: {capacitor: 1n, starts at: 0 V, from: saw, to: 0 V}
                  V1: {voltage source: 5 V, plus: threshold, minus: 0 V}
                  R1: {resistor: 1k, from: threshold, to: 0 V}
                  V2: {voltage source: "5 * [saw] / [threshold]", plus: seen, minus: 0 V}
                  V3: {voltage source: 2.51 V, plus: limit, minus: 0 V}
                  {{Cores.Reset("seen", top: "saw")}}
                """
            ),
            "seen"
        );
        int row = RowOf(bench, "V1");
        PhaseResponse response = Read(bench, bench.Falling("saw", 2.5), row);
        // Of the row's equation v − value = 0 either sign will do: the period is 5 V's share of the threshold.
        double steady = response.ByRow(0).Sum();
        Expect.Within(0.2, Math.Abs(steady), 1e-4);
        return (response, Math.Sign(steady));
    }

    private static int RowOf(Bench bench, string part) =>
        Array.FindIndex(bench.Circuit.Unknowns, unknown => unknown.IsInner && unknown.Name.StartsWith(part + " ", StringComparison.Ordinal));

    private static PhaseResponse Read(Bench bench, Probe probe, int row) => Read(bench, probe, bench.Rest.X, row, new(1e-5));

    private static PhaseResponse Read(Bench bench, Probe probe, double[] x, int row, Accuracy accuracy)
    {
        (RunIn? settled, SolveFailure? failure) = RunIn.Of(taken => new(bench.Circuit, taken, [probe]), accuracy, x, ("bench", "probe"), 0.1);
        Assert.True(settled is not null, failure?.ToString());
        (PhaseResponse? response, failure) = PhaseResponse.Read(bench.Circuit, settled, probe, [row], Cells);
        Assert.True(response is not null, failure?.ToString());
        return response;
    }

    private static (double Least, double Most) Range(PhaseResponse response, double sign, Func<double, double> injected, int pulses = 1)
    {
        LockCurve curve = new(Cells, pulses);
        curve.Add(response.WaveOf(0), new([.. Enumerable.Range(0, Cells).Select(i => sign * injected((i + 0.5) / Cells))]));
        double[] shares = curve.Shares();
        return (shares.Min(), shares.Max());
    }

    [Fact]
    public void A_sine_of_four_hundredths_on_the_threshold_locks_a_saw_within_4_percent_of_its_period()
    {
        // Circle map: lock if and only if 0.96 ≤ f0/fm ≤ 1.04 (from memory); 961.538 to 1041.667 Hz for 1000 Hz.
        (PhaseResponse saw, double sign) = Saw();
        (double least, double most) = Range(saw, sign, turn => -0.2 * Math.Sin(2 * Math.PI * turn));
        Expect.Within(1041.666667, 1000 / (1 + least), 0.05);
        Expect.Within(961.538462, 1000 / (1 + most), 0.05);
    }

    [Fact]
    public void Pulses_of_a_tenth_of_the_threshold_pull_a_saw_up_to_a_ninth_and_only_upward()
    {
        // Phase map: f0 ≤ fm ≤ f0/(1 − 0.5/5). First principles; no paper is claimed.
        (PhaseResponse saw, double sign) = Saw();
        (double least, double most) = Range(saw, sign, turn => turn < 1e-4 ? -0.5 : 0);
        Expect.Within(1 / 0.9, 1 / (1 + least), 1e-3);
        Expect.Within(1, 1 / (1 + most), 1e-5);
    }

    [Theory]
    [InlineData(2)]
    [InlineData(3)]
    public void A_saw_that_runs_once_for_several_pulses_is_pulled_as_far(int pulses)
    {
        // f0 ≤ fm/n ≤ f0/(1 − 0.5/5), from the same phase map.
        (PhaseResponse saw, double sign) = Saw();
        (double least, double most) = Range(saw, sign, turn => turn < 1e-3 ? -0.5 : 0, pulses);
        Expect.Within(1 / 0.9, 1 / (1 + least), 1e-2);
        Expect.Within(1, 1 / (1 + most), 1e-2);
    }

    [Fact]
    public void A_current_into_a_resonance_locks_it_within_Adlers_range()
    {
        // f0/(2Q)·E1/E = 1.0 Hz for 1 kHz, Q = 10, E1/E = 0.02: R. Adler, Proc. IRE 34 (1946) 351 (formula from memory). The
        // injected share of the tank's own current takes the place of E1/E; Adler keeps the first order of 1/Q. It comes out 3.00 % wider,
        // with steps of a 200th or a 400th of a period, and with three or eight periods that the tank may forget in.
        Bench bench = new(
            """
            circuit:
              C1: {capacitor: 1u, starts at: 12.7 V, from: tank, to: 0 V}
              L1: {inductor: 1 H, starts at: 0 A, series resistance: 0 ohm, from: tank, to: 0 V}
              R1: {resistor: 10k, from: tank, to: 0 V}
              G1: {law: "1e-3 * tanh([tank] / 0.5)", from: 0 V, to: tank}
            """
        );
        double omega = 2 * Math.PI * 1000;
        bench.With("L1", "value", 1e6 / (omega * omega)).With("R1", "value", 10e6 / omega);
        PhaseResponse response = Settled(bench);
        double fundamental = 4 / Math.PI * 1e-3; // of the limiter's square
        (double least, double most) = Range(response, 1, turn => 0.02 * fundamental * Math.Sin(2 * Math.PI * turn));
        Expect.Within(1.0, 1000 * (most - least) / 2, 0.031);
    }

    // A resonance of Q = 10 forgets its start within some ten periods.
    private static PhaseResponse Settled(Bench bench)
    {
        Transient start = bench.Start(new Accuracy(1e-6));
        Bench.Run(start, 0.0503);
        Probe probe = bench.Rising("tank");
        return Read(bench, probe, [.. start.X], bench.Circuit.Net("tank"), new(1e-6));
    }
}
