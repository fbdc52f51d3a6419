using Consort.Engine.Circuit;
using Consort.Engine.Circuit.Motion;
using Xunit;

namespace Consort.Tests.Circuit.Motion;

/// <summary>Where a run is told to end, beside where a source has a corner.</summary>
public sealed class RunEndTests
{
    private const double Corner = 1e-3;

    [Theory]
    [InlineData(2e-19)]
    [InlineData(1e-18)]
    [InlineData(1e-17)]
    [InlineData(1e-16)]
    [InlineData(1e-15)]
    [InlineData(1e-14)]
    [InlineData(1e-13)]
    [InlineData(3e-13)]
    [InlineData(1e-12)]
    public void A_run_ends_a_rounding_before_or_behind_a_corner(double rounding)
    {
        foreach (double end in (double[])[Corner - rounding, Corner + rounding])
        {
            Bench bench = new(
                """
                circuit:
                  V1: {voltage source: 5 V, before: 0 V, starts: 1 ms, rise: 10 ns, lasts: 20 us, every: 0.1 ms, plus: pulse, minus: 0 V}
                  R1: {resistor: 10k, from: pulse, to: a}
                  C1: {capacitor: 10n, from: a, to: 0 V}
                  C2: {capacitor: 100p, from: pulse, to: b}
                  R2: {resistor: 10k, from: b, to: 0 V}
                  U1: {op amp: TL072, plus: a, minus: out, out: out, supply: [+12 V, -12 V]}
                  R3: {resistor: 10k, from: out, to: 0 V}
                  V2: {voltage source: 12 V, plus: +12 V, minus: 0 V}
                  V3: {voltage source: -12 V, plus: -12 V, minus: 0 V}
                """
            );
            Transient run = bench.Start(Accuracy.Pitch);
            Bench.Run(run, end);
            Assert.Equal(end, run.Time);
            // And it goes on from there: after 0.1 ms at 5 V of 20 µs, one time constant of 0.1 ms is 5·(1 − e^-0.2) V.
            Bench.Run(run, Corner + 20e-6);
            Assert.Equal(5 * (1 - Math.Exp(-0.2)), run.X[bench.Circuit.Net("a")], 5e-3);
        }
    }
}
