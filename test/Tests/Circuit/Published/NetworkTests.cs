using System.Numerics;
using System.Text;
using Consort.Engine.Circuit.Signal;
using Xunit;

namespace Consort.Tests.Circuit.Published;

/// <summary>Resistor networks at rest. All sources from memory; the numbers were worked out again in multi-precision.</summary>
public sealed class NetworkTests
{
    private const double Exact = 1e-10; // digits of the expected values

    [Theory]
    [InlineData(1, -11.8811881)]
    [InlineData(2, -23.5294118)]
    [InlineData(3, -34.9514563)]
    [InlineData(4, -46.1538462)]
    [InlineData(8, -88.8888889)]
    public void Inputs_of_100k_load_a_source_of_1k(int inputs, double centsPerVolt)
    {
        // Thévenin; Desoer and Kuh, Basic Circuit Theory, 1969.
        StringBuilder text = new(
            """
            circuit:
              V1: {voltage source: 1 V, plus: keyboard, minus: 0 V}
              R1: {resistor: 1k, from: keyboard, to: bus}

            """
        );
        for (int i = 1; i <= inputs; i++)
            text.Append($"  R{i + 1}: {{resistor: 100k, from: bus, to: 0 V}}\n");
        Bench bench = new(text.ToString());
        Expect.Within(centsPerVolt, 1200 * (bench["bus"] - 1), 1e-7);
        Expect.Within(5 * centsPerVolt, 1200 * (bench.With("V1", "value", 5)["bus"] - 5), 5e-7);
    }

    [Fact]
    public void Three_resistors_to_three_rails_are_one_source_and_one_resistance()
    {
        // Millman's theorem.
        Bench bench = new(
            """
            circuit:
              V1: {voltage source: 12 V, plus: +12 V, minus: 0 V}
              V2: {voltage source: -12 V, plus: -12 V, minus: 0 V}
              R1: {resistor: 10k, from: +12 V, to: node}
              R2: {resistor: 22k, from: -12 V, to: node}
              R3: {resistor: 4k7, from: node, to: 0 V}
            """
        );
        Expect.Relative(1.82721382289, bench["node"], 1e-11);
        SmallSignal signal = new(bench.Circuit, bench.Rest);
        Complex[]? response = signal.ResponseToCurrent(1e3, bench.Circuit.Net("node"));
        Assert.NotNull(response);
        Expect.Relative(2791.57667387, response[bench.Circuit.Net("node")].Real, 1e-11);
    }

    [Fact]
    public void An_inverting_adder_weighs_its_inputs_and_multiplies_its_offset_by_the_noise_gain()
    {
        // Franco, Design with Operational Amplifiers and Analog ICs, ch. 1.
        Bench bench = new(
            """
            circuit:
              V1: {voltage source: 3 V, plus: a, minus: 0 V}
              V2: {voltage source: -1.5 V, plus: b, minus: 0 V}
              V3: {voltage source: 0.25 V, plus: c, minus: 0 V}
              R1: {resistor: 100k, from: a, to: sum}
              R2: {resistor: 47k, from: b, to: sum}
              R3: {resistor: 1M, from: c, to: sum}
              R4: {resistor: 100k, from: sum, to: out}
              U1: {op amp: ideal, plus: 0 V, minus: sum, out: out, supply: [+12 V, -12 V]}
              V4: {voltage source: 12 V, plus: +12 V, minus: 0 V}
              V5: {voltage source: -12 V, plus: -12 V, minus: 0 V}
            """
        );
        Expect.Relative(0.166489361702, bench["out"], Exact);
        Expect.Relative(4.22765957447, bench.Slope("out", "U1", "offset"), 1e-9); // the adjoint's own accuracy
        double still = bench["out"];
        Expect.Relative(4.22765957447, (bench.With("U1", "offset", 1e-3)["out"] - still) / 1e-3, 1e-9);
    }

    [Fact]
    public void A_loaded_potentiometer_at_half_turn_gives_four_tenths()
    {
        // a/(1 + a(1 − a)·R/RL), a = 1/2, R = RL: any textbook.
        Bench bench = new(
            """
            circuit:
              V1: {voltage source: 1 V, plus: top, minus: 0 V}
              P1: {potentiometer: 100k, taper: linear, position: 50%, ccw: 0 V, wiper: wiper, cw: top}
              R1: {resistor: 100k, from: wiper, to: 0 V}
            """
        );
        Expect.Relative(0.4, bench["wiper"], Exact);
    }

    [Theory]
    [InlineData(0.5, 0.1)]
    [InlineData(0.25, 0.025)]
    [InlineData(1, 1)]
    public void An_audio_taper_passes_a_tenth_at_half_turn(double position, double share)
    {
        // (81^x − 1)/80: laws of IEC 60393-1, the midpoint from makers' curves. From memory, unsure.
        Bench bench = new(
            """
            circuit:
              V1: {voltage source: 1 V, plus: top, minus: 0 V}
              P1: {potentiometer: 100k, taper: audio, position: 50%, ccw: 0 V, wiper: wiper, cw: top}
              R1: {resistor: 1T, from: wiper, to: 0 V}
            """
        );
        Expect.Relative(share, bench.With("P1", "position", position)["wiper"], 1e-6); // 1 TΩ of load on 100k
    }
}
