using Consort.Engine.Circuit.Motion;
using Consort.Tests.Circuit.Published;
using Xunit;

namespace Consort.Tests.Circuit.Properties;

/// <summary>How far the period at the accuracy for pitch is from a run a hundred times tighter: a pitch is to be trusted to a
/// hundredth of a cent.</summary>
public sealed class PeriodAccuracyTests
{
    private static readonly Accuracy Tight = Accuracy.Pitch.Taped with { Relative = Accuracy.Pitch.Taped.Relative / 100 };

    [Theory]
    [InlineData(20)]
    [InlineData(200)]
    [InlineData(2000)]
    [InlineData(5000)]
    [InlineData(10000)]
    public void A_saw_core_keeps_its_period_to_a_hundredth_of_a_cent(double hertz)
    {
        // 22 µA is 2 kHz; reset transistor, comparator and compensation are the example's own.
        Bench bench = Example("saw.yaml").With("I1", "value", 22e-6 * hertz / 2000);
        MustAgree(bench, bench.Rising("saw core", 2.5), hertz, 0.01);
    }

    [Theory]
    [InlineData(20)]
    [InlineData(450)]
    [InlineData(4500)]
    public void An_op_amp_as_Schmitt_trigger_keeps_its_period_to_a_tenth_of_a_cent(double hertz)
    {
        // Its flip grows out of what the error control still counts as nothing: some 10 ns of the step that meets it. A
        // comparator's flip is an event and has no such share.
        Bench bench = Example("schmitt.yaml").With("R1", "value", 10e3 * 4500 / hertz);
        MustAgree(bench, bench.Rising("timing", 1), hertz, 0.1);
    }

    private static Bench Example(string file) =>
        new(File.ReadAllText(Path.Combine(Reference.Root, "examples", "circuits", file)));

    private static void MustAgree(Bench bench, Probe probe, double hertz, double cents)
    {
        double tight = bench.Period(probe, 1, 3, 5 / hertz, Tight);
        foreach (Accuracy loose in (Accuracy[])[Accuracy.Pitch, Accuracy.Pitch.Taped])
            Expect.Within(0, Expect.Cents(bench.Period(probe, 1, 3, 5 / hertz, loose), tight), cents);
    }
}
