using MathNet.Numerics;

namespace Consort.Engine.Pitch.Builds;

/// <summary>A share of builds that pass, with the interval that holds the true share in at least 95 % of all studies (Clopper
/// and Pearson, Biometrika 26 (1934) 404). For independent builds; quasi-random ones lie closer to the truth than it says.</summary>
/// <param name="Passed">Builds that pass.</param>
/// <param name="Of">All builds.</param>
public readonly record struct YieldInterval(long Passed, long Of)
{
    private const double Tail = 0.025;

    /// <summary>The share found.</summary>
    public double Share => (double)Passed / Of;

    /// <summary>Lower end, 0 to 1.</summary>
    public double Low => LowerEnd(Tail);

    /// <summary>Upper end, 0 to 1.</summary>
    public double High => Passed == Of ? 1 : Quantile(Passed + 1, Of - Passed, 1 - Tail);

    /// <summary>The share that the truth falls below with no more than a probability.</summary>
    public double LowerEnd(double tail) => Passed == 0 ? 0 : Quantile(Passed, Of - Passed + 1, tail);

    // Where the beta distribution reaches a probability, by halving: 60 halvings leave 1e-18.
    private static double Quantile(double a, double b, double probability)
    {
        double low = 0;
        double high = 1;
        for (int i = 0; i < 60; i++)
        {
            double middle = 0.5 * (low + high);
            if (SpecialFunctions.BetaRegularized(a, b, middle) < probability)
                low = middle;
            else
                high = middle;
        }
        return 0.5 * (low + high);
    }
}
