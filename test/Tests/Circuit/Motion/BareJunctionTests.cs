using Consort.Engine.Circuit;
using Consort.Engine.Circuit.Motion;
using Xunit;

namespace Consort.Tests.Circuit.Motion;

/// <summary>Junctions that store no charge: no error of a charge tells how far a step without Newton has left their law.</summary>
public sealed class BareJunctionTests
{
    [Theory]
    [InlineData(0.02)]
    [InlineData(0.1741)]
    [InlineData(0.5)]
    public void A_differential_pair_of_ideal_transistors_follows_its_law_where_pitch_is_read(double peak)
    {
        // A bug's: the pair's emitters ran up to 4.5 V while the core beside them was all that was looked at, and both went dead.
        Bench bench = new(
            $$"""
            circuit:
              V1: {voltage source: {{peak}} V, before: -{{peak}} V, starts: 0 s, rise: 50 us, lasts: 50 us, every: 0.1 ms, plus: in, minus: 0 V}
              V2: {voltage source: 5 V, plus: +5 V, minus: 0 V}
              R1: {resistor: 500, from: +5 V, to: left}
              Q1: {npn: ideal, collector: left, base: in, emitter: tail, forward gain: 1e12, saturation current: 1e-16 A}
              Q2: {npn: ideal, collector: +5 V, base: 0 V, emitter: tail, forward gain: 1e12, saturation current: 1e-16 A}
              I1: {current source: 1 mA, from: tail, to: 0 V}
              C1: {capacitor: 10n, starts at: 0 V, from: slow, to: 0 V}
              R2: {resistor: 10k, from: +5 V, to: slow}
            """);
        double slope = Constants.ThermalVoltage(Constants.ReferenceTemperature);
        (int left, int input) = (bench.Circuit.Net("left"), bench.Circuit.Net("in"));
        Transient run = bench.Start(Accuracy.Pitch);
        double most = 0;
        // Gray, Hurst, Lewis, Meyer ch. 3 (from memory): the pair's share of its tail is 1/(1 + exp(−v/VT)).
        run.Accepted = (_, x) => most = Math.Max(most, Math.Abs(5 - 0.5 / (1 + Math.Exp(-x[input] / slope)) - x[left]));
        Bench.Run(run, 2e-3);
        Assert.True(most < 2e-4, $"{most}"); // Newton ends at some 0.03 of a thousandth of 5 V
    }
}
