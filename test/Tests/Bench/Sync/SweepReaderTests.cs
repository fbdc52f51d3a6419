using Consort.Engine.Bench.Readings;
using Consort.Engine.Bench.Sync;
using Xunit;

namespace Consort.Tests.Measuring.Sync;

/// <summary>Ranges of sync whose ends are known by the way in which the recordings were made.</summary>
public sealed class SweepReaderTests
{
    private const double Lead = 220;

    private static SyncReading Read(SweptPair pair)
    {
        (SyncReading? reading, string? why) = new SweepReader(RecorderClock.None).Read(pair.Follower, pair.Lead, pair.Free);
        Assert.True(reading is not null, why);
        return reading;
    }

    // An edge lies within three of its standard uncertainties.
    private static void IsAt(double cents, SyncEdge edge, double atMost)
    {
        Assert.True(edge.IsReached);
        Assert.True(Math.Abs(edge.Cents - cents) < 3 * edge.Uncertainty, $"{edge.Cents:0.00} ± {edge.Uncertainty:0.00} for {cents:0.00}");
        Assert.InRange(edge.Uncertainty, 0, atMost);
    }

    [Theory]
    [InlineData(20, -60, 60, 24, 2)]
    [InlineData(20, 60, -60, 24, 2)]
    [InlineData(60, -150, 200, 30, 3)]
    [InlineData(8, -20, 20, 40, 1)]
    public void A_follower_swept_past_a_lead_that_stands_is_caught_and_lost_where_the_sine_ends(double reach, double from, double to, double seconds, double atMost)
    {
        SyncReading reading = Read(SweptPair.Drawn(_ => Lead, SweptPair.Sweep(Lead, from, to, seconds), seconds, reach));
        SyncHold hold = Assert.Single(reading.Holds);
        // The sine's height is a frequency: below the lead as many hertz are more cents.
        double flat = 1200 * Math.Log2(2 - Math.Pow(2, reach / 1200));
        IsAt(flat, hold.Flat, atMost);
        IsAt(reach, hold.Sharp, atMost);
        Assert.Equal(Lead, hold.LeadHertz, 0.01);
    }

    [Fact]
    public void A_lead_swept_past_a_follower_that_stands_tells_the_same()
    {
        SyncReading reading = Read(SweptPair.Drawn(SweptPair.Sweep(Lead, -80, 80, 30), _ => Lead, 30, reach: 25));
        SyncHold hold = Assert.Single(reading.Holds);
        IsAt(25, hold.Sharp, 2);
        IsAt(1200 * Math.Log2(2 - Math.Pow(2, 25.0 / 1200)), hold.Flat, 2);
    }

    [Theory]
    [InlineData(0.8)]
    [InlineData(0.9)]
    public void Soft_sync_by_resets_holds_from_the_share_of_the_period_that_lets_itself_be_reset_to_unison(double share)
    {
        SyncReading reading = Read(SweptPair.Played(_ => Lead, SweptPair.Sweep(Lead, -600, 100, 35), 35, share));
        SyncHold hold = Assert.Single(reading.Holds);
        IsAt(1200 * Math.Log2(share), hold.Flat, 4);
        IsAt(0, hold.Sharp, 6);
    }

    [Fact]
    public void Hard_sync_holds_over_the_whole_sweep_however_the_wave_changes()
    {
        SyncReading reading = Read(SweptPair.Played(_ => Lead, SweptPair.Sweep(Lead, -300, 1900, 30), 30, from: 0));
        SyncHold hold = Assert.Single(reading.Holds);
        Assert.False(hold.Flat.IsReached);
        Assert.False(hold.Sharp.IsReached);
        Assert.Equal(-300, hold.Flat.Cents, 15.0);
        Assert.Equal(1900, hold.Sharp.Cents, 15.0);
    }

    [Fact]
    public void Without_sync_nothing_is_held_and_it_is_told_how_narrow_a_hold_would_be_missed()
    {
        SyncReading reading = Read(SweptPair.Drawn(_ => Lead, SweptPair.Sweep(Lead, -40, 40, 30), 30, reach: 0));
        Assert.Empty(reading.Holds);
        Assert.InRange(reading.LeastCents, 5, 30);
        Assert.InRange(reading.FromCents, -41, -38);
    }

    [Fact, Trait("Runs", "Long")]
    public void Of_twelve_holds_of_any_width_and_speed_of_sweep_two_standard_uncertainties_take_in_at_least_nine_tenths()
    {
        Random random = new(17);
        int within = 0, all = 0;
        for (int trial = 0; trial < 12; trial++)
        {
            double reach = 8 + 40 * random.NextDouble(), span = 3 * reach, seconds = 3 * span / reach * (1 + random.NextDouble()) + span / 6;
            int way = random.Next(2) == 0 ? 1 : -1;
            SyncReading reading = Read(SweptPair.Drawn(_ => 330, SweptPair.Sweep(330, -way * span, way * span, seconds), seconds, reach));
            SyncHold hold = Assert.Single(reading.Holds);
            foreach ((double cents, SyncEdge edge) in new[] { (reach, hold.Sharp), (1200 * Math.Log2(2 - Math.Pow(2, reach / 1200)), hold.Flat) })
            {
                all++;
                within += Math.Abs(edge.Cents - cents) < 2 * edge.Uncertainty ? 1 : 0;
            }
        }
        Assert.InRange(within, (int)Math.Ceiling(0.9 * all), all);
    }

    [Fact]
    public void A_recording_of_silence_is_told_in_words()
    {
        SweptPair pair = SweptPair.Drawn(_ => Lead, _ => Lead, 2, 0);
        (SyncReading? reading, string? why) = new SweepReader(RecorderClock.None).Read(pair.Follower, pair.Lead with { Samples = new double[96000] }, pair.Free);
        Assert.Null(reading);
        Assert.Contains("lead", why, StringComparison.Ordinal);
    }
}
