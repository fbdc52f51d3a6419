using Consort.Engine.Circuit.Parts;
using Xunit;

namespace Consort.Tests.Circuit.Parts;

/// <summary>Scheduled moves: plain arithmetic of 3x² − 2x³, no outside source.</summary>
public sealed class RampTests
{
    [Fact]
    public void A_level_moves_from_its_start_to_its_target_in_its_time()
    {
        Ramps ramps = new(1);
        ramps.SetDuration(0, 2);
        ramps.Schedule(0, cause: 1, start: 5, target: 1);
        Assert.Equal(0, ramps.Level(0, 5));
        Assert.Equal(0.5, ramps.Level(0, 6), 1e-15);
        Assert.Equal(0.15625, ramps.Level(0, 5.5), 1e-15);
        Assert.Equal(1, ramps.Level(0, 7));
        Assert.Equal(1, ramps.Level(0, 100));
    }

    [Fact]
    public void Rate_is_the_slope_of_the_level()
    {
        Ramps ramps = new(1);
        ramps.SetDuration(0, 2);
        ramps.Schedule(0, 0, 1, 1);
        ramps.Schedule(0, 1, 2, 0);
        for (double t = 0.05; t < 5; t += 0.1)
            Assert.Equal((ramps.Level(0, t + 1e-6) - ramps.Level(0, t - 1e-6)) / 2e-6, ramps.Rate(0, t), 1e-9);
    }

    [Fact]
    public void A_move_that_is_overtaken_hands_on_the_level_it_reached()
    {
        Ramps ramps = new(1);
        ramps.SetDuration(0, 2);
        ramps.Schedule(0, 0, 1, 1);
        ramps.Schedule(0, 0.5, 2, 0); // half way
        Assert.Equal(0.5, ramps.Level(0, 2), 1e-15);
        Assert.Equal(0.25, ramps.Level(0, 3), 1e-15);
        Assert.Equal(0, ramps.Level(0, 4), 1e-15);
        Assert.Equal(ramps.Level(0, 2 - 1e-9), ramps.Level(0, 2 + 1e-9), 1e-8);
    }

    [Fact]
    public void Many_moves_within_one_delay_all_come_out_in_order()
    {
        Ramps ramps = new(1);
        ramps.SetDuration(0, 0.1);
        for (int k = 0; k < 20; k++)
            ramps.Schedule(0, k * 0.2, 10 + k * 0.2, k % 2 == 0 ? 1 : 0);
        for (int k = 0; k < 20; k++)
        {
            Assert.Equal(k % 2 == 0 ? 1 : 0, ramps.Level(0, 10 + k * 0.2 + 0.15));
            Assert.Equal(k * 0.2, ramps.CauseOf(0, 10 + k * 0.2 + 0.15), 1e-15);
        }
        Assert.Equal(0, ramps.Level(0, 9.9));
        Assert.True(double.IsNaN(ramps.CauseOf(0, 9.9)));
    }

    [Fact]
    public void What_has_ended_is_forgotten_without_a_trace_in_the_level()
    {
        Ramps ramps = new(2);
        Ramps whole = new(2);
        foreach (Ramps each in (Ramps[])[ramps, whole])
        {
            each.SetDuration(1, 0.5);
            each.Schedule(1, 0, 1, 1);
        }
        ramps.Schedule(1, 3, 4, 0); // forgets the first move, which ended at 1.5
        whole.Schedule(1, 0, 4, 0);
        for (double t = 3; t < 6; t += 0.05)
            Assert.Equal(whole.Level(1, t), ramps.Level(1, t));
        Assert.Equal(0, ramps.CauseOf(1, 3.5));
    }

    [Fact]
    public void Corners_are_the_starts_and_ends_of_moves()
    {
        Ramps ramps = new(1);
        ramps.SetDuration(0, 2);
        ramps.Schedule(0, 0, 3, 1);
        Assert.Equal(3, ramps.NextCorner(0));
        Assert.Equal(5, ramps.NextCorner(3));
        Assert.Equal(double.PositiveInfinity, ramps.NextCorner(5));
    }

    [Fact]
    public void A_saved_state_comes_back()
    {
        Ramps ramps = new(2);
        ramps.SetDuration(0, 1);
        ramps.SetDuration(1, 1);
        for (int k = 0; k < 7; k++)
            ramps.Schedule(0, 0, k, k % 2);
        List<double> saved = [];
        ramps.Save(saved);
        double before = ramps.Level(0, 3.3);
        ramps.Settle(0, 0.25);
        ramps.Schedule(1, 0, 0, 1);
        ramps.Restore([.. saved]);
        Assert.Equal(before, ramps.Level(0, 3.3));
        Assert.Equal(0, ramps.Level(1, 5));
    }
}
