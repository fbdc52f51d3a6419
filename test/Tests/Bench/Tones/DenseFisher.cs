using MathNet.Numerics.LinearAlgebra;

namespace Consort.Tests.Measuring.Tones;

/// <summary>Fisher's information by brute force: a column for every unknown, sample by sample, and one matrix inverted.</summary>
internal static class DenseFisher
{
    /// <summary>Covariance of the unknowns for noise of unit variance.</summary>
    public static Matrix<double> Covariance(params double[][] columns)
    {
        Matrix<double> jacobian = Matrix<double>.Build.DenseOfColumnArrays(columns);
        double[] scale = [.. columns.Select(column => 1 / Math.Sqrt(column.Sum(x => x * x)))];
        Matrix<double> scaled = jacobian * Matrix<double>.Build.DenseOfDiagonalArray(scale);
        Matrix<double> inverse = scaled.TransposeThisAndMultiply(scaled).Inverse();
        return Matrix<double>.Build.Dense(columns.Length, columns.Length, (i, j) => inverse[i, j] * scale[i] * scale[j]);
    }

    /// <summary>One column.</summary>
    public static double[] Column(int count, Func<double, double> value, double from = 0) =>
        [.. Enumerable.Range(0, count).Select(i => value(i - from))];
}
