using Consort.Engine.Pitch.Builds.Cores;
using Consort.Engine.Pitch.Builds.Lanes;
using Xunit;

namespace Consort.Tests.Pitch.Builds.Cores;

public sealed class CoreLawTests
{
    [Theory]
    [InlineData(1)]
    [InlineData(2)]
    [InlineData(3)]
    [InlineData(4)]
    public void Weights_give_back_every_law_made_of_charge_dead_time_and_leakage(int known)
    {
        double[] currents = [.. ((double[])[1e-6, 4e-6, 32e-6, 128e-6]).Take(known)];
        double Law(double i) => 3 + (known > 1 ? 2e4 * i : 0) + (known > 2 ? 1e8 * i * i : 0) + (known > 3 ? 1e-6 / i : 0);
        CurrentWeights weights = new(currents);
        foreach (double current in (double[])[0.5e-6, 3e-6, 200e-6])
        {
            double value = weights.At(current).Zip(currents, (w, i) => w * Law(i)).Sum();
            Assert.Equal(Law(current), value, 1e-9 * Math.Abs(Law(current)));
            // The slope by a relative change of current, by a difference.
            double slope = weights.SlopesAt(current).Zip(currents, (w, i) => w * Law(i)).Sum();
            Assert.Equal((Law(current * 1.0001) - Law(current * 0.9999)) / 2e-4, slope, 1e-6 * (1 + Math.Abs(Law(current))));
        }
    }

    [Fact]
    public void Two_movers_together_give_back_their_corners_and_nothing_where_either_stands_still()
    {
        double[] corners = [0.4, -0.3, 0.2, 0.7];
        PairTerms terms = PairTerms.Through(0.5, 0.9, [.. corners, 0.12, -0.05]);
        double At(double a, double b) => terms.At(new One(a), new One(b)).Value;
        Assert.Equal(corners, (double[])[At(0.5, 0.9), At(0.5, -0.9), At(-0.5, 0.9), At(-0.5, -0.9)], (x, y) => Math.Abs(x - y) < 1e-12);
        Assert.Equal(0.17, At(0.25, 0.45) - At(0.25, -0.45), 1e-12);
        Assert.Equal(0, At(0, 0.7));
        Assert.Equal(0, At(-0.3, 0));
    }

    [Fact]
    public void A_curve_goes_through_its_nodes_and_through_nothing_at_the_design()
    {
        double Law(double d) => Math.Exp(1.3 * d) - 1 - 0.2 * d;
        double[] fit = CoreCurve.Fit(CoreCurve.Nodes, [.. CoreCurve.Nodes.Select(Law)]);
        foreach (double d in CoreCurve.Nodes)
            Assert.Equal(Law(d), CoreCurve.At(fit, new One(d)).Value, 1e-12);
        Assert.Equal(0, CoreCurve.At(fit, new One(0)).Value);
        Assert.Equal(Law(0.3), CoreCurve.At(fit, new One(0.3)).Value, 2e-4); // the next term of e^1.3d is below 1.3^7/7!/64
    }
}
