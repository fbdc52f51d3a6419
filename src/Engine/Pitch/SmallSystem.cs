using MathNet.Numerics.LinearAlgebra;

namespace Consort.Engine.Pitch;

/// <summary>The handful of equations of a trimming round.</summary>
internal static class SmallSystem
{
    /// <summary>Solves A·x = b in the least squares sense, so that a trimmer that does nothing stays where it is.</summary>
    public static double[] Solve(double[,] a, double[] b) =>
        Matrix<double>.Build.DenseOfArray(a).Svd().Solve(Vector<double>.Build.DenseOfArray(b)).ToArray();
}
