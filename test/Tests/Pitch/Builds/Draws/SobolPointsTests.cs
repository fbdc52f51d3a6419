using Consort.Engine.Pitch.Builds.Draws;
using Xunit;

namespace Consort.Tests.Pitch.Builds.Draws;

public sealed class SobolPointsTests
{
    [Fact]
    public void The_first_eight_points_in_three_dimensions_are_those_of_Joe_and_Kuo()
    {
        // Joe & Kuo, SIAM J. Sci. Comput. 30 (2008) 2635; the same eight points are given by SciPy's qmc.Sobol.
        double[][] published =
        [
            [0, 0, 0], [0.5, 0.5, 0.5], [0.75, 0.25, 0.25], [0.25, 0.75, 0.75],
            [0.375, 0.375, 0.625], [0.875, 0.875, 0.125], [0.625, 0.125, 0.875], [0.125, 0.625, 0.375],
        ];
        double[] points = new double[24];
        Fill(SobolPoints.Bare(3), 0, 8, points);
        for (int i = 0; i < 8; i++)
            Assert.Equal(published[i].AsEnumerable(), (double[])[points[i], points[8 + i], points[16 + i]]);
    }

    [Theory]
    [InlineData(0)]
    [InlineData(1)]
    [InlineData(20240611)]
    public void Scrambled_or_not_every_dimension_of_the_table_meets_each_of_256_shares_once(int seed)
    {
        // A (0, m, 1)-net in every dimension (Sobol', USSR Comput. Math. Math. Phys. 7 (1967) 86); scrambling keeps it.
        const int Count = 256;
        UnitPoints points = seed == 0 ? SobolPoints.Bare(2048) : SobolPoints.Scrambled(2048, (ulong)seed);
        double[] cube = new double[2048 * Count];
        Fill(points, 0, Count, cube);
        for (int d = 0; d < 2048; d++)
            Assert.Equal(Count, cube.AsSpan(d * Count, Count).ToArray().Select(u => (int)(u * Count)).Distinct().Count());
    }

    [Fact]
    public void The_first_two_dimensions_meet_every_square_of_sixteen_by_sixteen_once()
    {
        // Dimensions 1 and 2 are a (0, 2)-sequence.
        double[] cube = new double[2 * 256];
        Fill(SobolPoints.Scrambled(2, 7), 0, 256, cube);
        Assert.Equal(256, Enumerable.Range(0, 256).Select(i => ((int)(16 * cube[i]), (int)(16 * cube[256 + i]))).Distinct().Count());
    }

    [Fact]
    public void A_point_does_not_depend_on_where_a_block_begins()
    {
        foreach (UnitPoints points in (UnitPoints[])[SobolPoints.Scrambled(50, 3), new RandomPoints(3)])
        {
            double[] whole = new double[50 * 100];
            Fill(points, 0, 100, whole);
            double[] part = new double[50 * 7];
            Fill(points, 61, 7, part);
            for (int d = 0; d < 50; d++)
                for (int b = 0; b < 7; b++)
                    Assert.Equal(whole[d * 100 + 61 + b], part[d * 7 + b]);
        }
    }

    [Fact]
    public void Past_the_table_come_pseudo_random_numbers_that_still_fill_the_cube()
    {
        double[] cube = new double[2100 * 512];
        Fill(SobolPoints.Scrambled(2100, 5), 0, 512, cube);
        double[] last = cube[(2099 * 512)..];
        Assert.InRange(last.Average(), 0.5 - 4 * 0.0128, 0.5 + 4 * 0.0128); // 1/√(12·512) = 0.0128
        Assert.Equal(512, last.Distinct().Count());
    }

    [Fact]
    public void Scrambled_points_average_a_smooth_function_ten_times_better_than_random_ones()
    {
        // ∏(1 + 0.5(u − 0.5)) over five dimensions has the mean 1. Owen: for smooth functions the error falls as N^(−3/2).
        double Error(Func<ulong, UnitPoints> source) =>
            Math.Sqrt(Enumerable.Range(1, 20).Average(seed =>
            {
                double[] cube = new double[5 * 1024];
                Fill(source((ulong)seed), 0, 1024, cube);
                double mean = Enumerable.Range(0, 1024).Average(i => Enumerable.Range(0, 5).Aggregate(1.0, (p, d) => p * (1 + 0.5 * (cube[d * 1024 + i] - 0.5))));
                return (mean - 1) * (mean - 1);
            }));
        Assert.True(Error(seed => new RandomPoints(seed)) > 10 * Error(seed => SobolPoints.Scrambled(5, seed)));
    }

    private static void Fill(UnitPoints points, long first, int builds, double[] cube)
    {
        for (int d = 0; d < cube.Length / builds; d++)
            points.Fill(d, first, cube.AsSpan(d * builds, builds));
    }
}
