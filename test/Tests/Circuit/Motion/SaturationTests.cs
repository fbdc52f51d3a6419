using Consort.Engine.Circuit.Motion;
using Xunit;

namespace Consort.Tests.Circuit.Motion;

/// <summary>A transistor in saturation stores a charge that grows e-fold in 26 mV: what a step without Newton has left
/// between charge and voltage is not mended by a shorter one, and steps with Newton must take over.</summary>
public sealed class SaturationTests
{
    // A sync input: an edge through a capacitor closes the transistor on the limit of a comparator.
    private static Bench SyncInput(string rise, string coupling) => new($$"""
        circuit:
          V1: {voltage source: 5 V, plus: +5 V, minus: 0 V}
          V2: {voltage source: 12 V, plus: +12 V, minus: 0 V}
          V3: {voltage source: -12 V, plus: -12 V, minus: 0 V}
          V4: {voltage source: 6 V, before: -4 V, starts: 10 us, rise: {{rise}}, lasts: 50 us, every: 0.1 ms, plus: sync bus, minus: 0 V}
          C1: {capacitor: {{coupling}}, from: sync bus, to: sync edge}
          R1: {resistor: 22k, from: sync edge, to: 0 V}
          D1: {diode: 1N4148, anode: 0 V, cathode: sync edge}
          R2: {resistor: 10k, from: sync edge, to: sync base}
          Q1: {npn: 2N3904, collector: limit, base: sync base, emitter: 0 V}
          R3: {resistor: 10k, from: +5 V, to: limit}
          R4: {resistor: 10k, from: limit, to: 0 V}
          R5: {resistor: 10k, from: +5 V, to: sense}
          R6: {resistor: 2k2, from: sense, to: 0 V}
          U1: {comparator: LM311, plus: sense, minus: limit, out: out, emitter: 0 V, supply: [+12 V, -12 V]}
          R7: {resistor: 2k2, from: +5 V, to: out}
        """);

    [Theory]
    [InlineData("10 ns", "100 p")]
    [InlineData("0.5 us", "100 p")]
    [InlineData("1 us", "1 n")]
    [InlineData("5 us", "220 p")]
    public void A_transistor_that_stores_charge_lets_go_when_the_closer_method_says(string rise, string coupling)
    {
        Bench bench = SyncInput(rise, coupling);
        double[] close = Moments(bench, Accuracy.Default);
        double[] quick = Moments(bench, Accuracy.Pitch);
        Assert.Equal(close.Length, quick.Length);
        Assert.All(close.Zip(quick), pair => Assert.Equal(pair.First, pair.Second, 1e-8));
    }

    // An edge of 10 V through 330 pF into some 3 kohm: milliamperes into the base of a transistor that has next to nothing to
    // carry, or a capacitor to empty.
    [Theory]
    // With next to no capacitor there its stored charge alone says when it lets go, and that is followed loosely.
    [InlineData("0.5 us", 5, "100k", "47p", 2e-7)]
    [InlineData("0.1 us", 10, "100k", "47p", 2e-7)]
    [InlineData("0.8 us", 10, "330", "1n", 2e-7)]
    [InlineData("0.8 us", 10, "6k8", "1n", 2e-7)]
    [InlineData("0.8 us", 10, "100k", "1p", 2e-6)]
    public void A_transistor_that_is_driven_far_more_than_it_carries_is_followed_without_newton_too(string rise, double volts, string pull, string held, double seconds)
    {
        Bench bench = new($$"""
            circuit:
              V1: {voltage source: -5 V, plus: -5 V, minus: 0 V}
              V2: {voltage source: 4 V, plus: +4 V, minus: 0 V}
              V3: {voltage source: {{volts}} V, before: 0 V, starts: 10 us, rise: {{rise}}, lasts: 50 us, every: 0.1 ms, plus: sync in, minus: 0 V}
              C1: {capacitor: 330p, from: sync in, to: sync edge}
              D1: {diode: 1N4148, anode: -5 V, cathode: sync edge}
              R1: {resistor: 3k3, from: sync edge, to: sync base}
              R2: {resistor: 1k5, from: sync base, to: -5 V}
              Q1: {npn: 2N3904, collector: pull, base: sync base, emitter: -5 V}
              R3: {resistor: {{pull}}, from: pull, to: limit}
              R4: {resistor: 470k, from: +4 V, to: limit}
              C2: {capacitor: {{held}}, from: limit, to: 0 V}
            """);
        double[] close = Moments(bench, Accuracy.Default), quick = Moments(bench, Accuracy.Pitch);
        // Newton steps at 1e-3 of a volt, on a slope of 8 mV/us.
        Assert.Equal(close.Length, quick.Length);
        Assert.All(close.Zip(quick), pair => Assert.Equal(pair.First, pair.Second, seconds));
    }

    // When the limit falls below a volt and rises again.
    private static double[] Moments(Bench bench, Accuracy accuracy)
    {
        int limit = bench.Circuit.Net("limit");
        Transient run = new(bench.Circuit, accuracy, [new(limit, 1, false), new(limit, 1, true)]);
        run.Start(bench.Rest.X);
        Bench.Run(run, 0.5e-3);
        return [.. run.Crossings.Select(crossing => crossing.Time)];
    }
}
