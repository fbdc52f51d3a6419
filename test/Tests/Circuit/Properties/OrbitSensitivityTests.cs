using Consort.Engine.Circuit;
using Consort.Engine.Circuit.Motion;
using Consort.Engine.Circuit.Signal;
using Consort.Tests.Circuit.Published;
using Xunit;

namespace Consort.Tests.Circuit.Properties;

/// <summary>The discrete adjoint of a period against central differences of periods run anew.</summary>
public sealed class OrbitSensitivityTests
{
    private static readonly Accuracy Tight = new(1e-7);

    private const string Schmitt = """
        circuit:
          V1: {voltage source: 10 V, plus: +10 V, minus: 0 V}
          V2: {voltage source: -10 V, plus: -10 V, minus: 0 V}
          U1: {comparator: ideal, plus: limit, minus: timing, out: square, supply: [+10 V, -10 V], output: push-pull,
            delay: 1 us, ramp: 200 ns, on resistance: 50R, saturation voltage: 0.1 V, offset: 5 mV}
          R1: {resistor: 10k, from: square, to: timing}
          C1: {capacitor: 10n, starts at: 0 V, from: timing, to: 0 V}
          R2: {resistor: 10k, from: limit, to: 0 V}
          R3: {resistor: 15k, from: square, to: limit}
          C2: {capacitor: 100p, from: limit, to: 0 V}
        """;

    private static string Saw => $$"""
        circuit:
          I1: {current source: 22 uA, from: 0 V, to: saw}
          C1: {capacitor: 2n2, starts at: 1 V, from: top, to: 0 V}
          R1: {resistor: 620R, from: saw, to: top}
          R2: {resistor: 10M, from: saw, to: 0 V}
          V1: {voltage source: 2.55 V, plus: limit, minus: 0 V}
          {{Cores.Reset("saw", top: "top")}}
        """;

    [Theory]
    [InlineData("V1", "value")]
    [InlineData("V2", "value")]
    [InlineData("R1", "value")]
    [InlineData("C1", "value")]
    [InlineData("R2", "value")]
    [InlineData("R3", "value")]
    [InlineData("C2", "value")]
    [InlineData("U1", "delay")]
    [InlineData("U1", "ramp")]
    [InlineData("U1", "on resistance")]
    [InlineData("U1", "saturation voltage")]
    [InlineData("U1", "offset")]
    public void A_Schmitt_oscillators_period_answers_to_each_parameter_as_the_adjoint_says(string part, string word) =>
        MustAgree(new Bench(Schmitt), "timing", 1, 2e-3, part, word);

    [Theory]
    [InlineData("I1", "value")]
    [InlineData("C1", "value")]
    [InlineData("R1", "value")]
    [InlineData("R2", "value")]
    [InlineData("V1", "value")]
    [InlineData("U saw", "delay")]
    [InlineData("U saw", "hysteresis")]
    [InlineData("U saw", "offset")]
    [InlineData("S saw", "on resistance")]
    [InlineData("S saw", "threshold")]
    public void A_saw_cores_period_answers_to_each_parameter_as_the_adjoint_says(string part, string word)
    {
        Bench bench = new(Saw);
        bench.With("U saw", "delay", 200e-9).With("U saw", "ramp", 20e-9).With("U saw", "hysteresis", 4.5).With("U saw", "offset", 1e-3);
        bench.With("S saw", "on resistance", 60).With("S saw", "turn time", 50e-9).With("S saw", "off resistance", 1e11);
        MustAgree(bench, "saw", 2.5, 3e-3, part, word);
    }

    // Differences of the fourth order in a move of a hundredth are good to 1e-8; the rate at an event is taken from two short
    // steps of its own.
    private const double Share = 2e-4;

    // The slopes come from the very steps that a period is read from: they converge as the period does.
    private const double ShareAtPitch = 1e-3;

    // A switch's threshold is met on the comparator's ramp of 20 ns, of which steps that may err by a thousandth of a volt
    // know a hundredth: 0.001 cent of these periods.
    private const double ResolutionAtPitch = 1e-10; // s

    // Two periods of the difference end on four events, each known to the solver's resolution.
    private const double Resolution = 4e-12;

    private static void MustAgree(Bench bench, string net, double level, double until, string part, string word)
    {
        double value = bench.Circuit[part, word];
        double adjoint = Adjoint(bench, Tight, net, level, until, part, word, out double lost);
        Assert.True(lost < 1e-3, $"{lost:E1} of its phase was lost in a period");
        double quick = Adjoint(bench, Accuracy.Pitch.Taped, net, level, until, part, word, out lost);
        Assert.True(lost < 1e-3, $"{lost:E1} of its phase was lost in a period");
        double move = Math.Max(1e-2 * Math.Abs(value), word is "offset" or "saturation voltage" ? 20e-3 : 0);
        double[] periods =
        [
            .. new[] { -2, -1, 1, 2 }.Select(steps => Period(bench.With(part, word, value + steps * move), net, level, until)),
        ];
        double difference = (8 * (periods[2] - periods[1]) - (periods[3] - periods[0])) / (12 * move);
        Assert.True(
            Math.Abs(adjoint - difference) * move < Share * Math.Abs(difference) * move + Resolution,
            $"{part} {word}: adjoint {adjoint:R}, differences {difference:R}"
        );
        Assert.True(
            Math.Abs(quick - difference) * move < ShareAtPitch * Math.Abs(difference) * move + ResolutionAtPitch,
            $"{part} {word}: adjoint {quick:R} at the accuracy for pitch, differences {difference:R}"
        );
    }

    private static double Period(Bench bench, string net, double level, double until)
    {
        double[] times = bench.Times(bench.Rising(net, level), until, Tight);
        return times[5] - times[4];
    }

    private static double Adjoint(
        Bench bench,
        Accuracy accuracy,
        string net,
        double level,
        double until,
        string part,
        string word,
        out double lost
    )
    {
        Probe probe = bench.Rising(net, level);
        Transient run = bench.Start(accuracy, null, probe);
        run.Tape = new(bench.Circuit);
        List<int> steps = [];
        while (steps.Count < 6)
        {
            int before = run.Crossings.Count;
            SolveFailure? failure = run.Step(until);
            Assert.True(failure is null && run.Time < until, failure?.ToString());
            if (run.Crossings.Count > before)
                steps.Add(run.Tape.Steps.Count - 1);
        }
        OrbitSensitivity orbit = new(bench.Circuit, run.Tableau, [probe], [new(bench.Circuit.Find(part), word)]);
        double slope = orbit.OfInterval(run.Tape, steps[4], steps[5])[0];
        lost = Math.Max(orbit.Truncation, orbit.PhaseError);
        return slope;
    }
}
