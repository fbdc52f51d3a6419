using System.Collections.Immutable;
using Consort.Engine.Bench;
using Consort.Engine.Bench.Readings;
using Consort.Engine.Fit;
using Consort.Engine.Quantities;
using Consort.Tests.Invented;
using Xunit;

namespace Consort.Tests.Fit;

/// <summary>A trimmer that has come to its stop, and a person who says so.</summary>
public sealed class TrimStopTests
{
    private static readonly UnitModel Model = TrimTrialsTests.Model("pair", "pair-follower");

    // Readings of one unit in two rounds: in the second a trimmer stands at its clockwise stop.
    private static FittedUnit Fitted(int j, bool isTold)
    {
        InventedUnit unit = new(Model, seed: 3, number: 4, new(1, 0));
        ImmutableArray<UnitPoint> first = [.. unit.Read(0.2, new double[unit.Trimmers])];
        unit.Turn(j, 1);
        double[] counted = new double[unit.Trimmers];
        counted[j] = 0.4; // in truth 0.5 was turned: three turns of a count of fifteen are easily lost
        IEnumerable<UnitPoint> second = unit.Read(0.2, counted).Select(point => isTold ? point : point with { Places = [] });
        return new UnitFitter(Model).Fit(new([.. first, .. second], [0.5, 0.5, 0.5], [0.29, 0.29, 0.29], 0));
    }

    [Fact]
    public void A_stop_that_is_told_is_where_the_trimmer_stands_whatever_was_counted()
    {
        for (int j = 0; j < Model.Trims.Length; j++)
        {
            FittedUnit told = Fitted(j, isTold: true), untold = Fitted(j, isTold: false);
            Assert.Equal(1, told.Stand[j], 0.02);
            Assert.True(told.StandDeviation[j] < 0.02 && untold.StandDeviation[j] > 2 * told.StandDeviation[j], $"{told.StandDeviation[j]} told, {untold.StandDeviation[j]} not");
        }
    }

    [Fact]
    public void No_turn_is_asked_past_a_stop_that_is_told()
    {
        int back = 0;
        for (int j = 0; j < Model.Trims.Length; j++)
        {
            string trimmer = Model.Trims[j].Trimmer;
            TrimPlan plan = new TrimPlanner(Fitted(j, isTold: true)).Plan();
            Assert.All(plan.Turns.Where(turn => turn.Trimmer == trimmer), turn => Assert.True(turn.Turns < 0 && turn.To < 1));
            back += plan.Turns.Count(turn => turn.Trimmer == trimmer);
        }
        Assert.True(back >= 2, $"half the travel is too far: {back} of {Model.Trims.Length} were asked to come back"); // the high end's does little
    }

    [Fact]
    public void A_place_told_in_a_later_round_says_nothing_of_the_first()
    {
        ReadingSet set = new(Model.Place.Unit, RecorderClock.None, [Reading(0, null), Reading(1, new TrimmerStand(1, 0)), Reading(2, new TrimmerStand(null, -1.5))], []);
        UnitPoints points = UnitPoints.Of(Model, set);
        Assert.Equal((0.5, 0.29), (points.Start[0], points.StartDeviation[0]));
        Assert.Equal([null, 1, null], points.Points.Select(point => point.PlaceOf(0)));
        Assert.Equal([0, 0, -1.5 / Model.Sheet.Turns[0]], points.Points.Select(point => point.Turned[0]));
    }

    private static UnitReading Reading(int place, TrimmerStand? stand) =>
        new(new Volts(0), 0, new Hertz(440), 0.1, null, "here")
        {
            Place = place,
            Stands = stand is { } known ? ImmutableDictionary<string, TrimmerStand>.Empty.Add(Model.Trims[0].Trimmer, known) : ImmutableDictionary<string, TrimmerStand>.Empty,
        };
}
