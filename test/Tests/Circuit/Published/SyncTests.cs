using Consort.Engine.Circuit.Motion;
using Xunit;

namespace Consort.Tests.Circuit.Published;

/// <summary>Oscillators that follow another: by their resonance, by their threshold, by their reset.</summary>
public sealed class SyncTests
{
    private const double FreeRun = 1000;

    /// <summary>A saw of 5 V and 1 kHz whose threshold a formula moves: the comparator sees the saw times 5 V over the
    /// threshold, so that the release of the reset stays where it is.</summary>
    private static Bench Saw(string threshold, double hertz)
    {
        Bench bench = SlowSaw(threshold);
        return bench.With("V4", "every", 1 / hertz).With("I1", "value", 5e-6 / (1 - ResetTime.Value * FreeRun));
    }

    private static Bench SlowSaw(string threshold) =>
        Cores.Slowly(
            new(
                $$"""
                circuit:
                  I1: {current source: 5 uA, from: 0 V, to: saw}
                  C1: {capacitor: 1n, starts at: 0 V, from: saw, to: 0 V}
                  V1: {voltage source: "{{threshold}}", plus: threshold, minus: 0 V}
                  R1: {resistor: 1k, from: threshold, to: 0 V}
                  V2: {voltage source: "5 * [saw] / [threshold]", plus: seen, minus: 0 V}
                  V3: {voltage source: 2.51 V, plus: limit, minus: 0 V}
                  V4: {voltage source: 1 V, before: 0 V, starts: 0.1 ms, rise: 1 ns, lasts: 100 ns, every: 1 ms, plus: pulse, minus: 0 V}
                  R4: {resistor: 1k, from: pulse, to: 0 V}
                  {{Cores.Reset("seen", top: "saw")}}
                """
            ),
            "seen"
        );

    // Taken off the charging time, so that the saw runs free at 1 kHz to a part in 1e7.
    private static readonly Lazy<double> ResetTime = new(() =>
    {
        double[] times = Resets(SlowSaw("5 + 0 * t"), 3);
        return times[2] - times[1] - 1 / FreeRun;
    });

    private static double[] Resets(Bench bench, int cycles) =>
        bench.Times(bench.Falling("saw", 2.5), 1.2 * cycles / FreeRun)[..cycles];

    private static double MeanFrequency(double[] times, int from) =>
        (times.Length - 1 - from) / (times[^1] - times[from]);

    /// <summary>The mean frequency of a motion that never repeats, by smooth weights: Das, Saiki, Sander, Yorke, Nonlinearity
    /// 30 (2017) 4111. A plain mean would be off by one slip in the whole run.</summary>
    private static double WeightedFrequency(double[] times, int from)
    {
        double weights = 0;
        double sum = 0;
        int count = times.Length - 1 - from;
        for (int i = 0; i < count; i++)
        {
            double x = (i + 1.0) / (count + 1);
            double weight = Math.Exp(-1 / (x * (1 - x)));
            weights += weight;
            sum += weight * (times[from + i + 1] - times[from + i]);
        }
        return weights / sum;
    }

    [Theory]
    [InlineData(1.002, 1)]
    [InlineData(1.05, 1)]
    [InlineData(1.109, 1)]
    [InlineData(2 * 1.05, 2)]
    public void Pulses_of_a_tenth_of_the_threshold_pull_a_saw_up_to_a_ninth(double ratio, int pulses)
    {
        // Phase map: locked for f0 ≤ fm/n ≤ f0/(1 − 0.5/5). First principles; no paper is claimed.
        double[] times = Resets(Saw("5 - 0.5 * [pulse]", ratio * FreeRun), 300);
        Expect.Relative(ratio * FreeRun / pulses, MeanFrequency(times, 200), 1e-8);
    }

    [Theory]
    [InlineData(0.995)]
    [InlineData(1.115)]
    public void Pulses_outside_that_range_do_not_lock_it(double ratio)
    {
        double[] times = Resets(Saw("5 - 0.5 * [pulse]", ratio * FreeRun), 300);
        Assert.True(Math.Abs(MeanFrequency(times, 200) / (ratio * FreeRun) - 1) > 1e-3);
    }

    [Theory]
    [InlineData(962, 962, 1e-6)]
    [InlineData(1041, 1041, 1e-6)]
    [InlineData(961, 967.375, 0.02)]
    [InlineData(1042.5, 1034.006, 0.02)]
    public void A_sine_of_four_hundredths_on_the_threshold_locks_a_saw_within_4_percent(double hertz, double mean, double tolerance)
    {
        // Circle map t' = t + (5 − 0.2·sin(2π·fm·t'))/5000: lock if and only if 0.96 ≤ f0/fm ≤ 1.04 (from memory). The means
        // outside by iterating the map 90,000 times with the same weights; just outside the range they are steep.
        double[] times = Resets(Saw($"5 - 0.2 * sin(2 * pi * {hertz} * t)", FreeRun), 1100);
        Expect.Within(mean, WeightedFrequency(times, 100), tolerance);
    }

    [Theory]
    [InlineData(1.5, -1.0 / 6, new[] { 0.551328895, 0.275664448, 0.318309886, 0.137832224, 0.110265779 })]
    [InlineData(2.3, -0.0913043478, new[] { 0.215684019, 0.622431581, 0.184251816 })]
    public void A_hard_synced_saw_has_the_spectrum_of_its_closed_form(double ratio, double mean, double[] amplitudes)
    {
        // Fourier integral of 2·frac(r·t) − 1 reset at each whole t. From memory. The wave is made of straight pieces, so the
        // integral over the run's own steps is exact but for the resets, some 250 ps in 1 ms.
        Bench bench = new(
            $$"""
            circuit:
              I1: {current source: 5 uA, from: 0 V, to: lead}
              C1: {capacitor: 1n, starts at: 0 V, from: lead, to: 0 V}
              I2: {current source: 5 uA, from: 0 V, to: follower}
              C2: {capacitor: 1n, starts at: 0 V, from: follower, to: 0 V}
              V1: {voltage source: 2.51 V, plus: limit, minus: 0 V}
              {{Cores.Reset("lead")}}
              {{Cores.Reset("follower", supply: false)}}
              S1: {analog switch: ideal, a: follower, b: 0 V, control: lead gate, threshold: 2.5 V,
                on resistance: 0.1 mohm, off resistance: 1e15, turn time: 1 ps}
            """
        );
        bench.With("S1", "turn time", 20e-12).With("I2", "value", ratio * 5e-6);
        List<(double Time, double Level)> wave = [];
        Transient run = bench.Start(new Accuracy(1e-5), null, bench.Falling("lead", 2.5));
        int follower = bench.Circuit.Net("follower");
        run.Accepted = (time, x) => wave.Add((time, x[follower] / 2.5 - 1));
        Bench.Run(run, 3.2e-3);
        (double start, double end) = (run.Crossings[1].Time, run.Crossings[2].Time);
        (double Time, double Level)[] period = [.. wave.Where(point => point.Time >= start && point.Time <= end)];
        const double Resets = 1e-6; // 250 ps in 1 ms, times the jump of 2, times a margin
        Expect.Within(mean, Polyline.Harmonic(period, 0).Real, Resets);
        for (int k = 1; k <= amplitudes.Length; k++)
            Expect.Within(amplitudes[k - 1], 2 * Polyline.Harmonic(period, k).Magnitude, Resets);
    }
}
