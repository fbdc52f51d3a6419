using Consort.Engine.Bench;
using Consort.Engine.Bench.Readings;
using Consort.Engine.Quantities;
using Consort.Workbench.Screens.Measure;
using Xunit;

namespace Consort.Workbench.Tests.Screens;

public sealed class TrimRoundsTests
{
    private static readonly Dictionary<string, double> Travels = new() { ["RV1"] = 25, ["RV2"] = 1 };

    private static IEnumerable<string> Trimmers => Travels.Keys;

    [Fact]
    public void Turns_of_three_rounds_add_up_and_each_reading_keeps_those_of_its_own()
    {
        TrimRounds rounds = new();
        rounds.Next(Held(1, 2), Travels, new Dictionary<string, double> { ["RV1"] = 1.5 });
        Assert.Equal("1.5", rounds.Turned["RV1"]); // as advised, until it is corrected
        rounds.Turned["RV2"] = "−0.5";
        rounds.Next(Held(1), Travels, new Dictionary<string, double>());
        rounds.Turned["RV1"] = "-0.25";
        ReadingSet told = rounds.Told(Held(3), Travels);
        Assert.Equal(3, rounds.Number);
        Assert.Equal([0, 1, 2, 3], told.Readings.Select(reading => reading.Place));
        Assert.Equal([0, 0, 1.5, 1.25], told.Readings.Select(reading => reading.Stands.GetValueOrDefault("RV1").Turned));
        Assert.Equal([0, 0, -0.5, -0.5], told.Readings.Select(reading => reading.Stands.GetValueOrDefault("RV2").Turned));
    }

    [Fact]
    public void A_count_that_is_no_number_asks_for_another_and_a_stop_needs_none()
    {
        TrimRounds rounds = new();
        Assert.True(rounds.IsCounted(Trimmers));
        rounds.Next(Held(1), Travels, new Dictionary<string, double>());
        Assert.True(rounds.IsCounted(Trimmers));
        rounds.Turned["RV1"] = "some";
        Assert.False(rounds.IsCounted(Trimmers));
        rounds.Stops["RV1"] = "1";
        Assert.True(rounds.IsCounted(Trimmers));
        Assert.Equal(new TrimmerStand(1, 0), Assert.Single(rounds.Told(Held(2), Travels).Readings, reading => reading.Place == 1).Stands["RV1"]);
        rounds.Forget();
        Assert.Equal((1, 0), (rounds.Number, rounds.Earlier));
    }

    [Fact]
    public void Turns_after_a_stop_are_counted_from_the_stop_whatever_was_turned_before()
    {
        TrimRounds rounds = new();
        rounds.Next(Held(1), Travels, new Dictionary<string, double> { ["RV1"] = 3 });
        rounds.Stops["RV1"] = "1"; // it ran out before the three turns were made
        rounds.Next(Held(1), Travels, new Dictionary<string, double>());
        rounds.Turned["RV1"] = "-5";
        rounds.Next(Held(1), Travels, new Dictionary<string, double>());
        rounds.Turned["RV1"] = "2.5";
        ReadingSet told = rounds.Told(Held(2), Travels);
        Assert.Equal([new(), new(1, 0), new(0.8, 0), new(0.9, 0)], told.Readings.Select(reading => reading.Stands.GetValueOrDefault("RV1")));
        Assert.Equal([0, 0, 0, 0], told.Readings.Select(reading => reading.Stands.GetValueOrDefault("RV2").Turned));
    }

    private static ReadingSet Held(params double[] volts) =>
        new(new UnitName("pair-lead", "0001"), RecorderClock.Unknown, [.. volts.Select(v => new UnitReading(new Volts(v), 0, new Hertz(32.7 * Math.Pow(2, v)), 1e-3, null, "sound input"))], []);
}
