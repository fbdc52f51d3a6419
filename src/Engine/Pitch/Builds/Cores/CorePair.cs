using Consort.Engine.Pitch.Builds.Lanes;

namespace Consort.Engine.Pitch.Builds.Cores;

/// <summary>What two movers do together past their curves and past what each does to the other's slope.</summary>
/// <param name="First">Place of the one among the curves.</param>
/// <param name="Second">Place of the other.</param>
/// <param name="Coefficients">By known current.</param>
internal sealed record CorePair(int First, int Second, PairTerms[] Coefficients);

/// <summary>a·b·(c₀ + c₁·a + c₂·b + c₃·a·b), cents: nothing where either stands as in the design.</summary>
internal readonly record struct PairTerms(double C0, double C1, double C2, double C3)
{
    /// <summary>Through the values at the four corners (a, b), (a, −b), (−a, b), (−a, −b).</summary>
    public static PairTerms Through(double a, double b, double[] corners)
    {
        // Divided by a·b with its sign the corners are c₀ ± c₁·a ± c₂·b ± c₃·a·b.
        double scale = 1 / (4 * a * b);
        (double pp, double pm, double mp, double mm) = (corners[0], -corners[1], -corners[2], corners[3]);
        return new(
            scale * (pp + pm + mp + mm),
            scale / a * (pp + pm - mp - mm),
            scale / b * (pp - pm + mp - mm),
            scale / (a * b) * (pp - pm - mp + mm)
        );
    }

    /// <summary>Its value.</summary>
    public T At<T>(T a, T b)
        where T : struct, ILanes<T> => a * b * (T.Fma(a, T.Of(C1), T.Of(C0)) + b * T.Fma(a, T.Of(C3), T.Of(C2)));
}
