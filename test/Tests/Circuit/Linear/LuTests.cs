using Complex = System.Numerics.Complex;
using Consort.Engine.Circuit.Linear;
using MathNet.Numerics.LinearAlgebra;
using Xunit;

namespace Consort.Tests.Circuit.Linear;

/// <summary>The sparse factorisation against MathNet.Numerics' dense LU of the same matrices.</summary>
public sealed class LuTests
{
    [Theory]
    [InlineData(1, 1)]
    [InlineData(2, 5)]
    [InlineData(3, 40)]
    [InlineData(4, 150)]
    public void Sparse_and_dense_factors_give_the_same_answer(int seed, int size)
    {
        (SparsePattern pattern, double[] values, Matrix<double> dense) = RandomMatrix(seed, size);
        LuFactors<double> factors = new(LuOrder.Find(pattern, values)!);
        Assert.True(factors.Factor(values));
        double[] b = RandomVector(seed + 100, size);
        double[] x = new double[size + 1];
        factors.Solve(b, x);
        AssertSame(dense.Solve(Vector<double>.Build.DenseOfArray(b[1..])), x);
        factors.SolveTransposed(b, x);
        AssertSame(dense.Transpose().Solve(Vector<double>.Build.DenseOfArray(b[1..])), x);
    }

    [Fact]
    public void One_order_serves_other_values_and_complex_ones()
    {
        const int Size = 60;
        (SparsePattern pattern, double[] values, Matrix<double> dense) = RandomMatrix(7, Size);
        LuProgram program = LuOrder.Find(pattern, values)!;
        Complex[] turned = [.. values.Select(value => value * new Complex(2, 1))];
        LuFactors<Complex> factors = new(program);
        Assert.True(factors.Factor(turned));
        double[] b = RandomVector(8, Size);
        Complex[] x = new Complex[Size + 1];
        factors.Solve([.. b.Select(value => value * new Complex(2, 1))], x);
        AssertSame(dense.Solve(Vector<double>.Build.DenseOfArray(b[1..])), [.. x.Select(value => value.Real)]);
    }

    [Fact]
    public void A_singular_matrix_has_no_order()
    {
        SparsePattern pattern = new(2, [0, 1, 1, 2, 2], [0, 1, 2, 1, 2]);
        Assert.Null(LuOrder.Find(pattern, [0, 1, 2, 2, 4]));
    }

    private static (SparsePattern, double[], Matrix<double>) RandomMatrix(int seed, int size)
    {
        Random random = new(seed);
        Dictionary<(int, int), double> entries = [];
        for (int i = 1; i <= size; i++)
        {
            // No entry on some diagonals, and rows of very different size, as branch equations have.
            entries[(i, i % size + 1)] = 1 + random.NextDouble();
            double scale = Math.Pow(10, random.Next(-6, 6));
            for (int k = 0; k < 4; k++)
                entries[(i, random.Next(1, size + 1))] = scale * (random.NextDouble() - 0.5);
            entries[(i, i % size + 1)] = scale * (1 + random.NextDouble());
        }
        (int Row, int Column)[] places = [(0, 0), .. entries.Keys.Order()];
        double[] values = [0, .. entries.OrderBy(entry => entry.Key).Select(entry => entry.Value)];
        SparsePattern pattern = new(size, [.. places.Select(p => p.Row)], [.. places.Select(p => p.Column)]);
        Matrix<double> dense = Matrix<double>.Build.Dense(size, size, (i, j) => entries.GetValueOrDefault((i + 1, j + 1)));
        return (pattern, values, dense);
    }

    private static double[] RandomVector(int seed, int size)
    {
        Random random = new(seed);
        return [0, .. Enumerable.Range(0, size).Select(_ => random.NextDouble() - 0.5)];
    }

    // Both are backward stable: they differ by rounding times the condition, here below 1e6.
    private static void AssertSame(Vector<double> expected, double[] actual)
    {
        double scale = expected.AbsoluteMaximum();
        for (int i = 0; i < expected.Count; i++)
            Assert.Equal(expected[i], actual[i + 1], 1e-9 * scale);
    }
}
