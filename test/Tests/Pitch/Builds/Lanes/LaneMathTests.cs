using Consort.Engine.Pitch.Builds.Draws;
using Consort.Engine.Pitch.Builds.Lanes;
using Xunit;

namespace Consort.Tests.Pitch.Builds.Lanes;

/// <summary>Functions in lanes against Math's own, which are within an ulp of the truth on this platform.</summary>
public sealed class LaneMathTests
{
    [Fact]
    public void The_exponential_is_within_three_ulp_from_1e_minus_300_to_1e_300() =>
        Compare(x => 690 * x, LaneMath.Exp, LaneMath.Exp, Math.Exp, 3);

    [Fact]
    public void The_exponential_less_one_keeps_its_digits_around_zero() =>
        // e^x − 1 = 2·sinh(x/2)·e^(x/2)
        Compare(x => 0.3 * x * x * x, LaneMath.ExpLessOne, LaneMath.ExpLessOne, x => 2 * Math.Sinh(x / 2) * Math.Exp(x / 2), 6);

    [Fact]
    public void The_logarithm_is_within_three_ulp_over_six_hundred_decades() =>
        Compare(x => Math.Exp(690 * x), LaneMath.Log, LaneMath.Log, Math.Log, 3);

    [Fact]
    public void The_logarithm_keeps_its_digits_around_one() =>
        Compare(x => 1 + 0.3 * x * x * x, LaneMath.Log, LaneMath.Log, Math.Log, 3);

    [Fact]
    public void The_hyperbolic_tangent_is_within_four_ulp() =>
        Compare(x => 20 * x * x * x, LaneMath.Tanh, LaneMath.Tanh, Math.Tanh, 4);

    [Fact]
    public void The_normal_quantile_agrees_with_another_routine_to_1e_minus_13()
    {
        for (int i = 1; i < 4000; i++)
        {
            double u = i / 4000.0;
            double lane = Read(NormalLaw.Quantile(new One(u)));
            Assert.True(Math.Abs(lane - NormalLaw.Quantile(u)) <= 1e-13 * (1 + Math.Abs(lane)), $"at {u}: {lane:R} and {NormalLaw.Quantile(u):R}");
        }
        Assert.Equal(-6.361340902404056, Read(NormalLaw.Quantile(new One(1e-10))), 1e-12); // Wichura's own example of the tail
    }

    private static void Compare(Func<double, double> at, Func<Four, Four> four, Func<One, One> one, Func<double, double> truth, double ulps)
    {
        RandomBits bits = new(3);
        double[] lanes = new double[4];
        for (ulong i = 0; i < 20000; i += 4)
        {
            double[] x = [.. Enumerable.Range(0, 4).Select(k => at(2 * RandomBits.Share(bits.At(i + (ulong)k)) - 1))];
            Four.Store(four(Four.From(x)), lanes);
            for (int k = 0; k < 4; k++)
            {
                double exact = truth(x[k]);
                Assert.True(Math.Abs(lanes[k] - exact) <= ulps * (Math.BitIncrement(Math.Abs(exact)) - Math.Abs(exact)), $"f({x[k]:R}) = {lanes[k]:R}, Math says {exact:R}");
                Assert.Equal(lanes[k], Read(one(new One(x[k])))); // the same bits alone
            }
        }
    }

    private static double Read(One value) => value.Value;
}
