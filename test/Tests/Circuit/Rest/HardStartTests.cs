using Consort.Engine.Circuit;
using Consort.Engine.Circuit.Rest;
using Consort.Engine.Design;
using Consort.Tests.Circuit.Wiring;
using Xunit;

namespace Consort.Tests.Circuit.Rest;

/// <summary>Circuits that have no rest, more than one, or none that lasts.</summary>
public sealed class HardStartTests
{
    private const string Rails = """
        circuit:
          V1: {voltage source: 12 V, plus: +12 V, minus: 0 V}
          V2: {voltage source: -12 V, plus: -12 V, minus: 0 V}

        """;

    [Fact]
    public void A_net_without_a_path_for_direct_current_is_named()
    {
        SolveFailure failure = FailureOf(
            Make.Part("V1", "voltage source", 5, "in", "0 V"),
            Make.Part("C1", "capacitor", 1e-7, "in", "edge"),
            Make.Part("C2", "capacitor", 1e-7, "edge", "0 V")
        );
        Assert.Equal("edge", failure.Unknown);
        Assert.StartsWith("nothing sets a voltage", failure.What, StringComparison.Ordinal);
    }

    [Fact]
    public void Two_sources_in_parallel_are_told()
    {
        SolveFailure failure = FailureOf(
            Make.Part("V1", "voltage source", 5, "in", "0 V"),
            Make.Part("V2", "voltage source", 5, "in", "0 V")
        );
        Assert.StartsWith("nothing sets a current", failure.What, StringComparison.Ordinal);
    }

    [Fact]
    public void Two_comparators_that_hold_each_other_take_opposite_states()
    {
        // A latch has two states (Horowitz and Hill, The Art of Electronics, on flip-flops; from memory); which one is left open.
        Bench bench = new(
            Rails + """
              R1: {resistor: 10k, from: +12 V, to: half}
              R2: {resistor: 10k, from: half, to: 0 V}
              U1: {comparator: LM393, plus: half, minus: b, out: a, supply: [+12 V, -12 V]}
              U2: {comparator: LM393, plus: half, minus: a, out: b, supply: [+12 V, -12 V]}
              R3: {resistor: 4k7, from: +12 V, to: a}
              R4: {resistor: 4k7, from: +12 V, to: b}
            """
        );
        double high = Math.Max(bench["a"], bench["b"]);
        double low = Math.Min(bench["a"], bench["b"]);
        Assert.True(high > 11.9 && low < -11, $"{high} V and {low} V");
    }

    [Fact]
    public void A_comparator_that_feeds_back_to_itself_has_no_state_that_lasts()
    {
        Bench bench = new(
            Rails + """
              U1: {comparator: LM393, plus: 0 V, minus: out, out: out, supply: [+12 V, -12 V]}
              R1: {resistor: 4k7, from: +12 V, to: out}
            """
        );
        (RestState? rest, SolveFailure? failure) = new OperatingPoint(bench.Circuit).Find();
        Assert.Null(rest);
        Assert.Contains("no state that lasts", failure!.What, StringComparison.Ordinal);
    }

    // Past the trip points an op amp with positive feedback has one rest, at its limit: Franco, Design with Operational
    // Amplifiers, ch. 9 (Schmitt triggers), from memory.
    [Theory]
    [InlineData(5, -1)]
    [InlineData(-5, 1)]
    public void A_trigger_past_its_trip_points_rests_at_the_far_limit(double input, int sign)
    {
        Bench bench = new(
            Rails + $$"""
              V3: {voltage source: {{input}} V, plus: in, minus: 0 V}
              U1: {op amp: TL072, plus: limit, minus: in, out: out, supply: [+12 V, -12 V]}
              R1: {resistor: 10k, from: limit, to: 0 V}
              R2: {resistor: 30k, from: out, to: limit}
            """
        );
        Assert.InRange(sign * bench["out"], 10, 12);
    }

    // Ebers and Moll, Proc. IRE 42 (1954) 1761: the pair shares the current by exp(v/VT). The op amp's loop runs through it.
    [Theory]
    [InlineData(-0.06)]
    [InlineData(0)]
    [InlineData(0.06)]
    public void A_loop_through_a_transistor_pair_takes_few_passes(double volts)
    {
        Bench bench = new(
            Rails + $$"""
              V3: {voltage source: {{volts}} V, plus: base, minus: 0 V}
              V4: {voltage source: 0 V, plus: load, minus: 0 V}
              R1: {resistor: 1M, from: +12 V, to: node}
              Q1: {npn: ideal, collector: node, base: base, emitter: tail}
              Q2: {npn: ideal, collector: load, base: 0 V, emitter: tail}
              U1: {op amp: ideal, plus: 0 V, minus: node, out: drive, supply: [+12 V, -12 V]}
              R2: {resistor: 2k2, from: drive, to: tail}
            """
        );
        double vt = Constants.ThermalVoltage(Constants.ReferenceTemperature);
        Assert.Equal(12e-6 * Math.Exp(-volts / vt), bench.Into("V4", "minus"), 12e-8 * Math.Exp(-volts / vt));
        Assert.InRange(bench.Rest.Passes, 1, 40);
    }

    private static SolveFailure FailureOf(params Part[] parts)
    {
        Bench bench = new(new CircuitDesign("bench", [.. parts]));
        (RestState? rest, SolveFailure? failure) = new OperatingPoint(bench.Circuit).Find();
        Assert.Null(rest);
        return failure!;
    }
}
