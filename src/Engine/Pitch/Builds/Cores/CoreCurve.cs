using Consort.Engine.Pitch.Builds.Lanes;
using MathNet.Numerics.LinearAlgebra;

namespace Consort.Engine.Pitch.Builds.Cores;

/// <summary>What a mover does to a charge law past the slopes of the design, over its whole spread: by itself, a polynomial
/// through readings of the core with it really moved; and to every other φ's slope.</summary>
/// <param name="Mover">The mover.</param>
/// <param name="Own">Coefficients of d, d², … by known current, cents.</param>
/// <param name="Others">What d and d² add to the slope of every φ of the voice, by known current, cents.</param>
internal sealed record CoreCurve(Mover Mover, double[][] Own, (double[] First, double[] Second)[] Others)
{
    /// <summary>True when it changes the slopes of others.</summary>
    public bool Crosses => Array.Exists(Others, at => Array.Exists(at.First, slope => slope != 0));

    /// <summary>The ends of the spread.</summary>
    public static readonly double[] Ends = [-1, 1];

    /// <summary>Where a curve is read: the extremes of Chebyshev's polynomial of degree 6, but 0.</summary>
    public static readonly double[] Nodes = [-1, 1, -0.8660254037844386, 0.8660254037844386, -0.5, 0.5];

    /// <summary>Where a gentle one is read: those of degree 4.</summary>
    public static readonly double[] FewNodes = [-1, 1, -0.7071067811865476, 0.7071067811865476];

    /// <summary>The coefficients that go through values at some nodes, and through nothing at 0.</summary>
    public static double[] Fit(double[] nodes, double[] values) =>
        Matrix<double>.Build.Dense(nodes.Length, nodes.Length, (i, p) => Math.Pow(nodes[i], p + 1)).Solve(Vector<double>.Build.Dense(values)).ToArray();

    /// <summary>A polynomial without a constant.</summary>
    public static T At<T>(double[] coefficients, T d)
        where T : struct, ILanes<T>
    {
        T sum = T.Of(0);
        for (int i = coefficients.Length - 1; i >= 0; i--)
            sum = T.Fma(sum, d, T.Of(coefficients[i]));
        return sum * d;
    }
}
