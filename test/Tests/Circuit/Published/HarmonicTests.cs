using System.Numerics;
using Consort.Engine.Circuit;
using Consort.Engine.Circuit.Motion;
using Consort.Engine.Circuit.Signal;
using Xunit;

namespace Consort.Tests.Circuit.Published;

/// <summary>Oscillators with RC networks at their critical gain: Sedra and Smith, Microelectronic Circuits, chapter on
/// oscillators. From memory.</summary>
public sealed class HarmonicTests
{
    private const string Wien = """
        circuit:
          V1: {voltage source: 0 V, small signal: 1 V, plus: out, minus: 0 V}
          R1: {resistor: 10k, from: out, to: middle}
          C1: {capacitor: 10n, from: middle, to: in}
          R2: {resistor: 10k, from: in, to: 0 V}
          C2: {capacitor: 10n, from: in, to: 0 V}
        """;

    private const string PhaseShift = """
        circuit:
          V1: {voltage source: 0 V, small signal: 1 V, plus: out, minus: 0 V}
          C1: {capacitor: 10n, from: out, to: a}
          R1: {resistor: 10k, from: a, to: 0 V}
          C2: {capacitor: 10n, from: a, to: b}
          R2: {resistor: 10k, from: b, to: 0 V}
          C3: {capacitor: 10n, from: b, to: in}
          R3: {resistor: 10k, from: in, to: 0 V}
        """;

    [Theory]
    [InlineData(Wien, 1591.54943092, 3)]
    [InlineData(PhaseShift, 649.747334361, -29)]
    public void A_network_asks_for_its_critical_gain_where_it_turns_no_phase(string network, double hertz, double gain)
    {
        Bench bench = new(network);
        SmallSignal signal = new(bench.Circuit, bench.Rest);
        int input = bench.Circuit.Net("in");
        double low = hertz / 2;
        double high = hertz * 2;
        bool lowSide = Response(low).Imaginary > 0;
        for (int i = 0; i < 60; i++)
        {
            double middle = 0.5 * (low + high);
            if (Response(middle).Imaginary > 0 == lowSide)
                low = middle;
            else
                high = middle;
        }
        Expect.Relative(hertz, low, 1e-11);
        Expect.Relative(gain, 1 / Response(low).Real, 1e-11);

        Complex Response(double at) => signal.Response(at)![input];
    }

    [Fact]
    public void A_Wien_bridge_at_a_gain_of_3_keeps_its_amplitude_and_frequency()
    {
        Bench bench = new(
            """
            circuit:
              V1: {voltage source: "3 * [in]", plus: out, minus: 0 V}
              R1: {resistor: 10k, from: out, to: middle}
              C1: {capacitor: 10n, starts at: 0 V, from: middle, to: in}
              R2: {resistor: 10k, from: in, to: 0 V}
              C2: {capacitor: 10n, starts at: 1 V, from: in, to: 0 V}
            """
        );
        double[] peaks = new double[2];
        Transient run = bench.Start(Accuracy.Strict(1e-9, 1e-10), null, bench.Rising("out"));
        int output = bench.Circuit.Net("out");
        run.Accepted = (time, x) =>
        {
            double cycles = time * 1591.54943092;
            if (cycles is > 2 and < 4)
                peaks[0] = Math.Max(peaks[0], x[output]);
            if (cycles is > 10 and < 12)
                peaks[1] = Math.Max(peaks[1], x[output]);
        };
        Bench.Run(run, 8e-3);
        double[] times = [.. run.Crossings.Select(crossing => crossing.Time)];
        Expect.Relative(1591.54943092, 10 / (times[11] - times[1]), 1e-8);
        Expect.Relative(peaks[0], peaks[1], 1e-4); // read at the steps' ends, some hundred to the cycle
    }

    [Fact]
    public void A_diode_behind_a_resistor_carries_what_Lambert_W_says()
    {
        // Banwell and Jayakumar, Electronics Letters 36 (2000) 291; Corless and others 1996. From memory. nVT = 25.85 mV
        // is the temperature.
        double kelvin = 25.85e-3 * Constants.Charge / Constants.Boltzmann;
        Bench bench = new(
            """
            circuit:
              V1: {voltage source: 5 V, plus: in, minus: 0 V}
              R1: {resistor: 1k, from: in, to: a}
              D1: {diode: ideal, anode: a, cathode: 0 V, saturation current: 1e-14 A, emission coefficient: 1}
            """
        );
        bench.With("D1", "nominal temperature", kelvin).At(kelvin);
        Expect.Relative(4.30750962478e-3, bench.Into("D1", "anode"), 1e-10);
        Expect.Relative(0.692490375224, bench["a"], 1e-10);
    }
}
