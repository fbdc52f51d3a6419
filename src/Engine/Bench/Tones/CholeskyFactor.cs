using System.Runtime.InteropServices;
using System.Runtime.Intrinsics;

namespace Consort.Engine.Bench.Tones;

/// <summary>A symmetric positive system, factored: A = L·Lᵀ. Row by row, so that every inner product runs along memory.</summary>
internal sealed class CholeskyFactor
{
    private readonly double[][] rows;

    private CholeskyFactor(double[][] rows) => this.rows = rows;

    /// <summary>Factors in place the rows up to their diagonal; null when two columns are one, to rounding.</summary>
    public static CholeskyFactor? Of(double[][] rows)
    {
        const double Least = 1e-12; // of the diagonal: what is left of a column that the others already hold
        for (int i = 0; i < rows.Length; i++)
        {
            double[] row = rows[i];
            double diagonal = row[i];
            for (int j = 0; j < i; j++)
                row[j] = (row[j] - Dot(row, rows[j], j)) / rows[j][j];
            double left = row[i] - Dot(row, row, i);
            if (!(left > Least * diagonal))
                return null;
            row[i] = Math.Sqrt(left);
        }
        return new(rows);
    }

    /// <summary>L⁻¹·b, in place: products of two such columns are products under A⁻¹.</summary>
    public void Forward(Span<double> b)
    {
        for (int i = 0; i < rows.Length; i++)
            b[i] = (b[i] - Dot(b, rows[i], i)) / rows[i][i];
    }

    /// <summary>A⁻¹·b, in place.</summary>
    public void Solve(Span<double> b)
    {
        Forward(b);
        for (int i = rows.Length - 1; i >= 0; i--)
        {
            double x = b[i] /= rows[i][i];
            double[] row = rows[i];
            for (int j = 0; j < i; j++)
                b[j] -= x * row[j];
        }
    }

    /// <summary>Σ a[k]·b[k] over the first so many.</summary>
    public static double Dot(ReadOnlySpan<double> a, ReadOnlySpan<double> b, int count)
    {
        ref double left = ref MemoryMarshal.GetReference(a);
        ref double right = ref MemoryMarshal.GetReference(b);
        Vector256<double> sum = default, other = default;
        int k = 0;
        for (; k + 8 <= count; k += 8)
        {
            sum += Vector256.LoadUnsafe(ref left, (nuint)k) * Vector256.LoadUnsafe(ref right, (nuint)k);
            other += Vector256.LoadUnsafe(ref left, (nuint)(k + 4)) * Vector256.LoadUnsafe(ref right, (nuint)(k + 4));
        }
        double total = Vector256.Sum(sum + other);
        for (; k < count; k++)
            total += a[k] * b[k];
        return total;
    }
}
