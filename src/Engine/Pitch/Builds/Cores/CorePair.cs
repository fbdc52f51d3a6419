using Consort.Engine.Pitch.Builds.Lanes;

namespace Consort.Engine.Pitch.Builds.Cores;

/// <summary>What two movers do together past their curves and past what each does to the other's slope.</summary>
/// <param name="First">Place of the one among the curves.</param>
/// <param name="Second">Place of the other.</param>
/// <param name="Coefficients">By known current.</param>
internal sealed record CorePair(int First, int Second, PairTerms[] Coefficients);

/// <summary>a·b·(c₀ + c₁·a + c₂·b + c₃·a·b + c₄·a² + c₅·b²), cents: nothing where either stands as in the design.</summary>
internal readonly record struct PairTerms(double C0, double C1, double C2, double C3, double C4, double C5)
{
    /// <summary>Through the values at the four corners (a, b), (a, −b), (−a, b), (−a, −b) and, as far as the sign of b turns it over,
    /// at (a/2, b/2) and (a/2, −b/2): most builds lie within the corners.</summary>
    public static PairTerms Through(double a, double b, double[] values)
    {
        // Divided by a·b with its sign the corners are c ± c₁·a ± c₂·b ± c₃·a·b, where c = c₀ + c₄·a² + c₅·b² with equal shares.
        double scale = 1 / (4 * a * b);
        (double pp, double pm, double mp, double mm) = (values[0], -values[1], -values[2], values[3]);
        double outer = scale * (pp + pm + mp + mm);
        double first = scale / a * (pp + pm - mp - mm);
        double inner = (values[4] - values[5]) * 2 / (a * b) - first * a / 2;
        double growth = (outer - inner) / 1.5; // from a quarter of each square to the whole
        return new(outer - 2 * growth, first, scale / b * (pp - pm + mp - mm), scale / (a * b) * (pp - pm - mp + mm), growth / (a * a), growth / (b * b));
    }

    /// <summary>Its value.</summary>
    public T At<T>(T a, T b)
        where T : struct, ILanes<T>
    {
        T byA = T.Fma(a, T.Fma(a, T.Of(C4), T.Of(C1)), T.Of(C0));
        T byB = T.Fma(a, T.Of(C3), T.Fma(b, T.Of(C5), T.Of(C2)));
        return a * b * T.Fma(b, byB, byA);
    }
}
