using System.Text.Json;
using Consort.Engine.Bench.Batches;
using Consort.Engine.Bench.History;
using Consort.Engine.Bench.Readings;
using Consort.Engine.Documents.Bench;
using Consort.Engine.Fit;
using Consort.Tests.Cli;
using Consort.Tests.Fit;
using Consort.Tests.Invented;
using Xunit;

namespace Consort.Tests.Measuring.Batches;

public sealed class BatchSpreadTests
{
    private static readonly DateTimeOffset Noon = new(2026, 3, 1, 12, 0, 0, TimeSpan.Zero);
    private static readonly UnitModel Model = TrimTrialsTests.Model("pair", "pair-follower");

    // Units drawn part by part and read at every note, their trimmers set to the middle by eye.
    private static BatchSpread Batch(int first, int units, double parts) =>
        BatchSpread.Of(Model, Enumerable.Range(first, units).Select(number =>
        {
            InventedUnit unit = new(Model, 21, number, new(parts, 0));
            for (int j = 0; j < unit.Trimmers; j++)
                unit.Turn(j, 0.5 + 0.02 * unit.Normal()); // by eye
            return (LogEntry)new SittingEntry(new("pair-follower", $"{number:0000}"), Noon, "as built", KeptLaw.Of(Model.Place.Law), RecorderClock.None,
            [
                .. Enumerable.Range(0, Model.Volts.Length).Select(n =>
                {
                    double hertz = Model.Place.IdealHertz(Model.Volts[n]) * Math.Pow(2, (unit.Cents(n) + 0.05 * unit.Normal()) / 1200);
                    return new KeptReading(Model.Volts[n], 0, hertz, hertz * 0.05 * Math.Log(2) / 1200, null, "counter");
                }),
            ]);
        }))!;

    [Fact]
    public void Batches_from_the_shelf_lie_within_its_interval_nearly_always()
    {
        // 95 % of intervals hold the truth: of 40 batches fewer than 34 with a chance of 2 %. Departures are cut, uniform or
        // measured and not normal, which makes variances scatter less than chi-squared says.
        const int Batches = 40, Units = 12;
        BatchSpread[] all = [.. Enumerable.Range(0, Batches).Select(b => Batch(b * Units, Units, 1))];
        for (int f = 0; f < 2; f++)
        {
            Assert.InRange(all.Count(batch => batch.Figures[f].RatioLow <= 1 && batch.Figures[f].RatioHigh >= 1), 34, Batches);
            Assert.Equal(1, Math.Sqrt(all.Average(batch => batch.Figures[f].Ratio * batch.Figures[f].Ratio)), 0.1);
        }
    }

    [Fact]
    public void Parts_twice_as_far_off_are_told_as_twice_as_far_off()
    {
        BatchSpread batch = Batch(0, 60, 2);
        foreach (BatchFigure figure in batch.Figures)
        {
            // Parts at twice their departures make four times their variance, and the rest stays. A deviation of 60 is good to 9 %.
            double expected = Math.Sqrt(4 * figure.PartsShare + 1 - figure.PartsShare);
            Assert.InRange(figure.Ratio, 0.8 * expected, 1.2 * expected);
            Assert.True(figure.RatioLow > 1);
            Assert.InRange(figure.Causes.Sum(cause => cause.Share), 0.2, 1.0001);
        }
        JsonPage.Names(JsonDocument.Parse(BatchJson.Write("pair-follower", batch)).RootElement);
    }

    [Fact]
    public void Only_the_first_readings_of_three_units_or_more_say_anything()
    {
        Assert.Null(BatchSpread.Of(Model, []));
        SittingEntry[] one = [.. Enumerable.Range(0, 5).Select(i => new SittingEntry(new("pair-follower", "7"), Noon.AddDays(i), null, KeptLaw.Of(Model.Place.Law), RecorderClock.None, [new(0, 0, 100, 1, null, ""), new(1, 0, 200, 1, null, "")]))];
        Assert.Null(BatchSpread.Of(Model, one));
    }
}
