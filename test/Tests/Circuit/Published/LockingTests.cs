using Consort.Engine.Circuit.Motion;
using Xunit;

namespace Consort.Tests.Circuit.Published;

/// <summary>R. Adler, A Study of Locking Phenomena in Oscillators, Proc. IRE 34 (1946) 351, reprinted Proc. IEEE 61 (1973)
/// 1380 (citation confirmed, formulas from memory): a resonance of quality Q that is fed E1 beside its own E locks within
/// f0/(2Q)·E1/E of its frequency; outside it beats at √(Δf² − ΔfL²).</summary>
public sealed class LockingTests
{
    private const double Quality = 10;
    private const double Injection = 0.02;

    /// <summary>A tank of 1 kHz and Q = 10, driven by a current that limits to ±1 mA with the sign of its voltage and the
    /// injected one. Both voltages are sines to 1/Q of the limiter's harmonics.</summary>
    private static Bench Oscillator(double hertz, double injected)
    {
        Bench bench = new(
            """
            circuit:
              C1: {capacitor: 1u, starts at: 12.7 V, from: tank, to: 0 V}
              L1: {inductor: 1 H, starts at: 0 A, series resistance: 0 ohm, from: tank, to: 0 V}
              R1: {resistor: 10k, from: tank, to: 0 V}
              V1: {voltage source: 0 V, amplitude: 0 V, frequency: 1 kHz, plus: injected, minus: 0 V}
              R2: {resistor: 1k, from: injected, to: 0 V}
              G1: {law: "1e-3 * tanh(([tank] + [injected]) / 0.5)", from: 0 V, to: tank}
            """
        );
        double omega = 2 * Math.PI * 1000;
        return bench
            .With("L1", "value", 1e6 / (omega * omega))
            .With("R1", "value", Quality * 1e6 / omega)
            .With("V1", "amplitude", injected)
            .With("V1", "frequency", hertz);
    }

    private static double[] Cycles(Bench bench, double until)
    {
        Transient run = bench.Start(new Accuracy(1e-6, Timing: 0.1), null, bench.Rising("tank"));
        Bench.Run(run, until);
        return [.. run.Crossings.Select(crossing => crossing.Time)];
    }

    private static double Amplitude(Bench bench)
    {
        Transient run = bench.Start(new Accuracy(1e-6, Timing: 0.1));
        Bench.Run(run, 0.1);
        double peak = 0;
        int tank = bench.Circuit.Net("tank");
        run.Accepted = (_, x) => peak = Math.Max(peak, x[tank]);
        Bench.Run(run, 0.11);
        return peak;
    }

    [Fact]
    public void An_oscillator_locks_within_Adlers_range_and_beats_outside_as_he_says()
    {
        double[] alone = Cycles(Oscillator(1000, 0), 0.2);
        double free = 100 / (alone[^1] - alone[^101]);
        double peak = Amplitude(Oscillator(1000, 0));
        double range = free / (2 * Quality) * Injection; // 1.0 Hz
        Expect.Within(1, range, 0.01);

        double inside = free + 0.9 * range; // it comes to rest there with a time constant of 0.37 s
        double[] locked = Cycles(Oscillator(inside, Injection * peak), 3.5);
        Expect.Relative(inside, 200 / (locked[^1] - locked[^201]), 1e-6);

        double outside = free + 1.25 * range;
        double[] beating = Cycles(Oscillator(outside, Injection * peak), 4.2);
        // 3 %: Adler keeps the first order of 1/Q and E1/E.
        Expect.Relative(0.75 * range, Beat(beating, outside), 0.03);
    }

    /// <summary>Slips per second of an oscillator's phase against a frequency: the time between two slips by a whole turn.</summary>
    private static double Beat(double[] cycles, double hertz)
    {
        double start = Lag(0);
        int first = Array.FindIndex(cycles, time => time > 0.5);
        start = Lag(first);
        int end = first;
        while (Lag(end) - start < 2)
            end++;
        double over = (Lag(end) - start - 2) / (Lag(end) - Lag(end - 1));
        return 2 / (cycles[end] - over * (cycles[end] - cycles[end - 1]) - cycles[first]);

        double Lag(int i) => hertz * cycles[i] - i;
    }

    [Theory]
    [InlineData(1, 1.25, 0.75)]
    [InlineData(45, 50, 21.7944947)]
    public void Adlers_own_equation_beats_at_the_root_of_the_difference_of_squares(double lockRange, double detuning, double beat)
    {
        // dθ/dt = 2π·(Δf − ΔfL·sin θ), as charge on one farad.
        Bench bench = new(
            $$"""
            circuit:
              C1: {capacitor: 1 F, starts at: 0 V, from: angle, to: 0 V}
              G1: {law: "2 * pi * ({{detuning}} - {{lockRange}} * sin([angle]))", from: 0 V, to: angle}
            """
        );
        double end = 3 / beat;
        Transient run = bench.Start(
            Accuracy.Strict(1e-10, 1e-10),
            null,
            bench.Rising("angle", 1),
            bench.Rising("angle", 1 + 2 * Math.PI)
        );
        Bench.Run(run, end);
        Expect.Relative(beat, 1 / (run.Crossings[1].Time - run.Crossings[0].Time), 1e-8);
    }
}
