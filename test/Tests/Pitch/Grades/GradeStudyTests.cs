using Consort.Engine.Design;
using Consort.Engine.Pitch;
using Consort.Engine.Pitch.Grades;
using Xunit;

namespace Consort.Tests.Pitch.Grades;

public sealed class GradeStudyTests
{
    private static StockItem Item(string kind, double value, double tolerance, double price) =>
        new(PartKinds.Find(kind)!, null, value, null, tolerance, 0, null, price, null, "", default!);

    [Fact]
    public void The_optimum_that_can_be_worked_out_is_found_and_verified_with_other_builds()
    {
        // 3 cents are asked. A capacitor of 1 % moves the pitch by 17.3 cents, one of 0.1 % by 1.73; the resistor tilts it by 0.35
        // cent at 1 % and by 1.8 cents at 5 %, of which 1.73 + 1.8 > 3 costs 2.3 % of builds: the capacitor must be closer, the resistor need not.
        Voice toy = ToyVoice.OnMultiple(1, ToyVoice.Oscillator("toy", "100k", gain: "1.01"));
        toy = toy with { Members = [toy.Members[0] with { StandsCents = -1200 * Math.Log2(1.02) }] };
        Stock stock = new([Item("capacitor", 100e-9, 0.001, 1.00), Item("capacitor", 100e-9, 0.01, 0.28), Item("resistor", 100e3, 0.01, 0.015), Item("resistor", 100e3, 0.05, 0.008)]);
        (GradeFinding? finding, Unproved? why) = new GradeStudy(2).Run(toy, stock, new(0.9), null, TestContext.Current.CancellationToken);
        Assert.True(finding is not null, why?.What);
        Assert.True(finding.IsExhaustive);
        string[] found = [.. finding.Places.Select((place, i) => $"{place.Designator} {place.Grades[finding.After!.Value[i]].Tolerance}").Order()];
        Assert.Equal(["C1 0.001", "R1 0.05"], found);
        Assert.InRange(finding.YieldBefore.Share, 0.15, 0.19); // (6 − 0.18)/34.6
        Assert.InRange(finding.YieldAfter.Share, 0.96, 0.99); // 1 − 2·0.53²/2/(3.46·3.56)
        Assert.Equal(1.008, finding.CostAfter, 1e-9);
        Assert.InRange(finding.Checked!.Figure, 0, 0.05);
    }
}
