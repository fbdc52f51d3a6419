using System.Numerics;
using Consort.Engine.Pitch.Locking;
using Consort.Tests.Circuit;
using Xunit;

namespace Consort.Tests.Pitch.Locking;

public sealed class LockCurveTests
{
    [Theory]
    [InlineData(1, 1.25, 0.75)]
    [InlineData(45, 50, 21.7944947)]
    public void Outside_a_sines_lock_range_the_beat_is_the_root_of_the_difference_of_squares(double lockRange, double detune, double beat)
    {
        // R. Adler, Proc. IRE 34 (1946) 351 (citation confirmed, formula from memory): √(Δf² − ΔfL²).
        double[] speeds = [.. Enumerable.Range(0, 4096).Select(i => detune + lockRange * Math.Sin(2 * Math.PI * i / 4096))];
        Expect.Relative(beat, Slip.Beat(speeds), 1e-8);
        Expect.Relative(Math.Sqrt(detune * detune - lockRange * lockRange), Slip.Beat(speeds), 1e-12);
    }

    [Fact]
    public void Inside_the_range_nothing_beats() =>
        Assert.Equal(0, Slip.Beat([.. Enumerable.Range(0, 64).Select(i => 0.99 + Math.Sin(2 * Math.PI * i / 64))]));

    [Fact]
    public void A_pair_with_nothing_between_has_no_range_and_beats_as_its_detune_says()
    {
        PairLock pair = new("a", "b", 0, 440, 3, [.. new double[64]], 0, []);
        Assert.Equal(0, pair.Width);
        Assert.False(pair.LocksAt(0));
        // 440·(2^(3/1200) − 1): arithmetic.
        Expect.Within(0.763122903, pair.BeatAt(3), 1e-9);
        Assert.Equal(1, pair.EvennessAt(3));
        Assert.True(pair.BeatsFreelyAt(0.001));
    }

    [Fact]
    public void A_transform_of_real_values_is_the_sum_that_defines_it_and_comes_back()
    {
        const int Cells = 32;
        double[] values = [.. Enumerable.Range(0, Cells).Select(i => Math.Cos(0.7 * i * i) + 0.1 * i)];
        Complex[] harmonics = RealTransform.Forward(values);
        for (int k = 0; k <= Cells / 2; k++)
        {
            Complex sum = Complex.Zero;
            for (int i = 0; i < Cells; i++)
                sum += values[i] * Complex.FromPolarCoordinates(1, -2 * Math.PI * i * k / Cells);
            Expect.Within(0, (sum - harmonics[k]).Magnitude, 1e-11);
        }
        double[] back = RealTransform.Inverse(harmonics);
        for (int i = 0; i < Cells; i++)
            Expect.Within(Cells * values[i], back[i], 1e-11 * Cells);
    }

    [Fact]
    public void A_response_feels_what_is_brought_at_the_phase_of_the_other()
    {
        // A period that feels one moment sees the brought wave itself, shifted there.
        const int Cells = 64;
        double[] response = new double[Cells], brought = [.. Enumerable.Range(0, Cells).Select(i => Math.Sin(2 * Math.PI * i / Cells) + 0.2 * i / Cells)];
        response[5] = 0.01;
        LockCurve curve = new(Cells);
        curve.Add(new(response), new(brought));
        double[] shares = curve.Shares();
        for (int psi = 0; psi < Cells; psi++)
            Expect.Within(0.01 * brought[(5 + psi) % Cells], shares[psi], 1e-12);
    }

    [Fact]
    public void A_range_has_the_edges_of_its_curve_and_its_beat_is_even_only_well_outside()
    {
        PairLock pair = new("a", "b", 0, 1000, 5, [.. Enumerable.Range(0, 256).Select(i => 2 * Math.Sin(2 * Math.PI * i / 256))], 0, []);
        Expect.Within(-2, pair.Low, 1e-12);
        Expect.Within(2, pair.High, 1e-12);
        Assert.True(pair.LocksAt(1.9) && !pair.LocksAt(2.1));
        Expect.Within(6, pair.BeatsFreelyAbove, 1e-12); // (6 − 2)/(6 + 2) = 1/2
        Expect.Within(0.5, pair.EvennessAt(6), 1e-12);
        Assert.Equal(0, pair.BeatAt(1));
        Assert.True(pair.BeatAt(2.1) < 0.5 * pair.FreeBeatAt(2.1));
    }

    [Fact]
    public void What_is_spread_over_a_turn_is_kept_whole_wherever_it_begins()
    {
        PhaseGrid grid = new(10);
        grid.Spread(0.87, 0.31, 3);
        grid.Spread(-0.02, 1e-6, 1);
        grid.Drop(2.35, 2);
        Expect.Within(6, grid.Cells.Sum(), 1e-12);
        Expect.Within(3 * 0.03 / 0.31, grid.Cells[8], 1e-12);
        Expect.Within(3 * 0.1 / 0.31 + 1, grid.Cells[9], 1e-12);
        Expect.Within(2, grid.Cells[3], 1e-12);
    }
}
