using System.Numerics;
using Consort.Engine.Circuit.Motion;
using Consort.Engine.Circuit.Signal;
using Xunit;

namespace Consort.Tests.Circuit.Published;

/// <summary>Op amps that are not ideal: Franco, Design with Operational Amplifiers and Analog ICs, ch. 1, 5 and 6. From
/// memory.</summary>
public sealed class AmplifierTests
{
    private const string Supplies = """

          V8: {voltage source: 15 V, plus: +15 V, minus: 0 V}
          V9: {voltage source: -15 V, plus: -15 V, minus: 0 V}
        """;

    private const string Follower = """
        circuit:
          V1: {voltage source: 5 V, plus: source, minus: 0 V}
          R1: {resistor: 100k, from: source, to: in}
          U1: {op amp: ideal, plus: in, minus: out, out: out, supply: [+15 V, -15 V]}
        """;

    [Fact]
    public void A_gain_of_1e5_leaves_the_loops_share_of_the_ideal_gain()
    {
        // 1/(1 + noise gain/A): both stages have a noise gain of 2.
        Bench bench = new(
            """
            circuit:
              V1: {voltage source: 1 V, plus: in, minus: 0 V}
              U1: {op amp: ideal, gain: 1e5, plus: in, minus: foot, out: double, supply: [+15 V, -15 V]}
              R1: {resistor: 10k, from: double, to: foot}
              R2: {resistor: 10k, from: foot, to: 0 V}
              U2: {op amp: ideal, gain: 1e5, plus: 0 V, minus: sum, out: inverse, supply: [+15 V, -15 V]}
              R3: {resistor: 10k, from: in, to: sum}
              R4: {resistor: 10k, from: sum, to: inverse}
            """
                + Supplies
        );
        Expect.Relative(1.99996000080, bench["double"], 1e-11);
        Expect.Within(-0.0239995200, 1200 * (bench["double"] / 2 - 1), 1e-9);
        Expect.Relative(-0.999980000400, bench["inverse"], 1e-11);
    }

    [Fact]
    public void A_follower_with_a_gain_of_2e5_is_30_millicent_flat_at_5_volt()
    {
        Bench bench = new(Follower + Supplies);
        double out5 = bench.With("U1", "gain", 2e5)["out"];
        Expect.Within(-0.0299998500, 1200 * (out5 - 5), 1e-9);
    }

    [Fact]
    public void Bias_current_and_offset_of_a_FET_input_move_the_output()
    {
        // Arithmetic: 65 pA · 100 kΩ; 3 mV at 1 V/oct. Typical figures of a FET-input data sheet (confirmed there).
        Bench bench = new(Follower + Supplies);
        double still = bench["out"];
        double biased = bench.With("U1", "bias current", 65e-12)["out"];
        Expect.Within(-6.5e-6, biased - still, 1e-11); // the current enters the input and comes through the source
        double moved = bench.With("U1", "bias current", 0).With("U1", "offset", 3e-3)["out"];
        Expect.Within(3.6, 1200 * (moved - still), 1e-7);
    }

    [Fact]
    public void A_noise_gain_of_3_leaves_a_third_of_the_gain_bandwidth()
    {
        Bench bench = new(
            """
            circuit:
              V1: {voltage source: 0 V, small signal: 1 V, plus: in, minus: 0 V}
              U1: {op amp: ideal, gain-bandwidth: 3 MHz, plus: in, minus: foot, out: out, supply: [+15 V, -15 V]}
              R1: {resistor: 20k, from: out, to: foot}
              R2: {resistor: 10k, from: foot, to: 0 V}
            """
                + Supplies
        );
        SmallSignal signal = new(bench.Circuit, bench.Rest);
        Complex[]? low = signal.Response(1);
        Complex[]? edge = signal.Response(1e6);
        Assert.NotNull(low);
        Assert.NotNull(edge);
        int output = bench.Circuit.Net("out");
        Expect.Relative(3, low[output].Real, 1e-9);
        // 1e-8: an ideal output still has 0.1 mΩ, 3e-9 of its load.
        Expect.Relative(3 / Math.Sqrt(2), edge[output].Magnitude, 1e-8);
        Expect.Within(-45, edge[output].Phase * 180 / Math.PI, 1e-6);
    }

    [Fact]
    public void A_slew_rate_of_13_volt_a_microsecond_carries_10_volt_peak_to_206901_hertz()
    {
        // SR/(2π·Vp). The follower's steepest slope on a step of 20 V is the slew rate that it shows.
        Bench bench = new(
            """
            circuit:
              V1: {voltage source: 10 V, before: -10 V, starts: 1 us, rise: 1 ns, plus: in, minus: 0 V}
              U1: {op amp: ideal, gain-bandwidth: 30 MHz, slew rate: 13 V/us, plus: in, minus: out, out: out, supply: [+15 V, -15 V]}
            """
                + Supplies
        );
        Transient run = bench.Start(new Accuracy(1e-7), null, bench.Rising("out", -5), bench.Rising("out", 5));
        Bench.Run(run, 5e-6);
        double slew = 10 / (run.Crossings[1].Time - run.Crossings[0].Time);
        Expect.Relative(206901.426, slew / (2 * Math.PI * 10), 1e-6);
    }

    [Theory]
    [InlineData(0.5, 1, 0.01)]
    [InlineData(2, Math.PI / 4, 0.01)]
    public void Past_its_full_power_bandwidth_a_follower_turns_a_sine_into_a_triangle(double times, double share, double tolerance)
    {
        // A triangle of slope SR has the peak SR/(4f): π/4 of Vp at twice f = SR/(2π·Vp). 1 %: the follower's own lag.
        Bench bench = new(
            """
            circuit:
              V1: {voltage source: 0 V, amplitude: 10 V, frequency: 206901.426 Hz, plus: in, minus: 0 V}
              U1: {op amp: ideal, gain-bandwidth: 100 MHz, slew rate: 13 V/us, plus: in, minus: out, out: out, supply: [+15 V, -15 V]}
            """
                + Supplies
        );
        double hertz = times * 206901.426;
        bench.With("V1", "frequency", hertz);
        Transient run = bench.Start(new Accuracy(1e-5));
        Bench.Run(run, 5 / hertz);
        double peak = 0;
        int output = bench.Circuit.Net("out");
        run.Accepted = (_, x) => peak = Math.Max(peak, x[output]);
        Bench.Run(run, 7 / hertz);
        Expect.Within(share, peak / 10, tolerance);
    }
}
