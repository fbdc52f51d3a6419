using Consort.Engine.Pitch.Builds;
using Consort.Engine.Pitch.Builds.Draws;
using Consort.Tests.Circuit;
using Xunit;

namespace Consort.Tests.Pitch.Builds;

public sealed class MomentsTests
{
    [Fact]
    public void Streams_that_are_joined_have_the_moments_of_all_their_numbers()
    {
        Moments left = new();
        Moments right = new();
        for (int i = 0; i < 100; i++)
            (i < 37 ? ref left : ref right).Add(1e6 + i);
        left.Join(right);
        Expect.Within(1e6 + 49.5, left.Mean, 1e-8);
        Expect.Relative(100 * 101 / 12.0, left.Variance, 1e-9); // n(n + 1)/12 of 0 … n − 1
        Assert.Equal((100, 1e6, 1e6 + 99), (left.Count, left.Least, left.Most));
    }

    [Fact]
    public void Of_a_thousand_random_builds_the_spread_is_known_to_2_per_cent_and_the_mean_to_3()
    {
        // Kendall & Stuart: of a normal sample of N = 1000 the deviation is off by 1/√(2(N − 1)) = 2.23718685 % (one standard
        // error), the mean by 3.16227766 % of a deviation. 1000 studies give either to 1/√2000 = 2.2 % of itself.
        Moments deviations = new();
        Moments means = new();
        for (ulong seed = 0; seed < 1000; seed++)
        {
            double[] cube = new double[1000];
            new RandomPoints(1000 + seed).Fill(0, 0, cube);
            Moments study = new();
            foreach (double u in cube)
                study.Add(NormalLaw.Quantile(u));
            deviations.Add(study.Deviation);
            means.Add(study.Mean);
        }
        Expect.Relative(0.0223718685, deviations.Deviation, 3 * 0.0224);
        Expect.Relative(0.0316227766, means.Deviation, 3 * 0.0224);
    }

    [Fact]
    public void The_normal_distribution_has_its_published_shares()
    {
        Expect.Within(0.954499736104, NormalLaw.Below(2) - NormalLaw.Below(-2), 1e-12);
        Expect.Within(0.997300203937, NormalLaw.Below(3) - NormalLaw.Below(-3), 1e-12);
        Expect.Within(1.5, NormalLaw.Quantile(NormalLaw.Below(1.5)), 1e-12);
    }
}
