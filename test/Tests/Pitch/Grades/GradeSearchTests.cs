using Consort.Engine.Pitch.Builds;
using Consort.Engine.Pitch.Grades;
using Xunit;

namespace Consort.Tests.Pitch.Grades;

public sealed class GradeSearchTests
{
    private const double Most = 12; // variance that just keeps the limits
    private const long Builds = 1_000_000;

    // Each place brings a variance by its grade; builds keep the limits as a normal of that variance would.
    private static (GradeSearch Search, GradePlace[] Places) Make(int count, int grades, int seed)
    {
        GradePlace[] places =
        [
            .. Enumerable.Range(0, count).Select(i => new GradePlace(
                "modules/a.yaml",
                $"R{i}",
                null!,
                [$"a/R{i}"],
                [.. Enumerable.Range(0, grades).Select(g => new Grade(0.001 * Math.Pow(3, g), 0, (1 + (i * 7 + seed) % 5 * 0.3) / (1 + g)))],
                grades - 1
            )),
        ];
        GradeWeight[] weights = [.. places.Select((_, i) => new GradeWeight(Variance(places, i, grades - 1) / 50, 0))];
        return (new(places, choice => Yield(places, choice), weights), places);
    }

    private static double Variance(GradePlace[] places, int i, int grade) =>
        (1 + (i * 5) % 7) * Math.Pow(places[i].Grades[grade].Tolerance / 0.003, 2);

    private static YieldInterval Yield(GradePlace[] places, int[] choice)
    {
        double variance = choice.Select((grade, i) => Variance(places, i, grade)).Sum();
        return new((long)(Builds * Math.Min(1, Math.Exp(1 - variance / Most))), Builds);
    }

    private static double TrueOptimum(GradePlace[] places, double share)
    {
        double best = double.MaxValue;
        int[] choice = new int[places.Length];
        for (long code = 0; code < Math.Pow(places[0].Grades.Length, places.Length); code++)
        {
            long left = code;
            for (int i = 0; i < choice.Length; i++, left /= places[0].Grades.Length)
                choice[i] = (int)(left % places[0].Grades.Length);
            double cost = choice.Select((grade, i) => places[i].Cost(grade)).Sum();
            if (cost < best && Yield(places, choice).Low >= share)
                best = cost;
        }
        return best;
    }

    [Theory]
    [InlineData(1)]
    [InlineData(2)]
    [InlineData(3)]
    public void Few_places_are_gone_through_and_the_true_optimum_is_found(int seed)
    {
        (GradeSearch search, GradePlace[] places) = Make(6, 3, seed);
        int[]? found = search.Cheapest(0.8);
        Assert.True(search.IsExhaustive);
        Assert.Equal(TrueOptimum(places, 0.8), search.Cost(found!), 1e-12);
    }

    [Theory]
    [InlineData(1)]
    [InlineData(2)]
    [InlineData(3)]
    public void A_climb_over_many_places_ends_within_5_per_cent_of_the_optimum(int seed)
    {
        (GradeSearch search, GradePlace[] places) = Make(11, 2, seed);
        int[]? found = search.Cheapest(0.8);
        Assert.False(search.IsExhaustive);
        Assert.True(Yield(places, found!).Low >= 0.8);
        Assert.InRange(search.Cost(found!), 0, 1.05 * TrueOptimum(places, 0.8));
        Assert.InRange(search.Looked, 1, 100); // of 2048
    }

    [Fact]
    public void A_sum_is_never_overspent_and_more_of_it_never_buys_less()
    {
        (GradeSearch search, _) = Make(6, 3, 1);
        double before = 0;
        foreach (double sum in (double[])[4, 5, 6, 9])
        {
            int[]? found = search.Best(sum);
            Assert.InRange(search.Cost(found!), 0, sum + 1e-9);
            double share = search.Yield(found!).Share;
            Assert.True(share >= before);
            before = share;
        }
        Assert.Null(Make(11, 2, 1).Search.Best(0.1));
    }

    [Fact]
    public void What_no_grade_reaches_is_not_found() => Assert.Null(Make(11, 2, 1).Search.Cheapest(1));
}
