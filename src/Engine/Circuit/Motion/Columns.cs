using System.Runtime.CompilerServices;
using System.Numerics;

namespace Consort.Engine.Circuit.Motion;

/// <summary>Sums of whole columns of unknowns. Each element is worked out by itself, so that the width of a lane does not
/// change a bit.</summary>
internal static class Columns
{
    /// <summary>to += factor·from.</summary>
    [MethodImpl(MethodImplOptions.AggressiveOptimization)]
    public static void AddScaled(double[] to, double[] from, double factor)
    {
        if (factor == 0)
            return;
        Vector<double> f = new(factor);
        int i = 0;
        for (; i <= to.Length - Vector<double>.Count; i += Vector<double>.Count)
            (new Vector<double>(to, i) + f * new Vector<double>(from, i)).CopyTo(to, i);
        for (; i < to.Length; i++)
            to[i] += factor * from[i];
    }

    /// <summary>to = factor·from.</summary>
    [MethodImpl(MethodImplOptions.AggressiveOptimization)]
    public static void Scale(double[] to, double[] from, double factor)
    {
        Vector<double> f = new(factor);
        int i = 0;
        for (; i <= to.Length - Vector<double>.Count; i += Vector<double>.Count)
            (f * new Vector<double>(from, i)).CopyTo(to, i);
        for (; i < to.Length; i++)
            to[i] = factor * from[i];
    }

    /// <summary>False when an element is no number.</summary>
    [MethodImpl(MethodImplOptions.AggressiveOptimization)]
    public static bool AreFinite(double[] column)
    {
        Vector<double> sum = Vector<double>.Zero;
        double rest = 0;
        int i = 0;
        for (; i <= column.Length - Vector<double>.Count; i += Vector<double>.Count)
            sum += new Vector<double>(column, i) * Vector<double>.Zero;
        for (; i < column.Length; i++)
            rest += column[i] * 0;
        return Vector.Sum(sum) + rest == 0; // infinity times zero is no number either
    }

    /// <summary>Σ factor·column, each column by its place.</summary>
    public static double[] Sum(IReadOnlyList<double[]> columns, Func<int, double> factor)
    {
        double[] sum = new double[columns[0].Length];
        for (int i = 0; i < columns.Count; i++)
            AddScaled(sum, columns[i], factor(i));
        return sum;
    }

    /// <summary>to = a + b.</summary>
    public static void Sum(double[] to, double[] a, double[] b)
    {
        for (int i = 0; i < to.Length; i++)
            to[i] = a[i] + b[i];
    }

    /// <summary>to = scale·from + Σ factors·terms, of the first so many.</summary>
    [MethodImpl(MethodImplOptions.AggressiveOptimization)]
    public static void Sum(double[] to, double[] from, double scale, double[][] terms, double[] factors, int count)
    {
        int i = 0;
        for (; i <= to.Length - Vector<double>.Count; i += Vector<double>.Count)
        {
            Vector<double> sum = scale * new Vector<double>(from, i);
            for (int j = 0; j < count; j++)
                sum += new Vector<double>(terms[j], i) * factors[j];
            sum.CopyTo(to, i);
        }
        for (; i < to.Length; i++)
        {
            double sum = scale * from[i];
            for (int j = 0; j < count; j++)
                sum += terms[j][i] * factors[j];
            to[i] = sum;
        }
    }

    /// <summary>to = from + a·first + b·second + c·third.</summary>
    [MethodImpl(MethodImplOptions.AggressiveOptimization)]
    public static void Sum(double[] to, double[] from, (double Factor, double[] Term) first, (double Factor, double[] Term) second, (double Factor, double[] Term) third)
    {
        Vector<double> a = new(first.Factor), b = new(second.Factor), c = new(third.Factor);
        int i = 0;
        for (; i <= to.Length - Vector<double>.Count; i += Vector<double>.Count)
            (new Vector<double>(from, i) + a * new Vector<double>(first.Term, i) + b * new Vector<double>(second.Term, i) + c * new Vector<double>(third.Term, i)).CopyTo(to, i);
        for (; i < to.Length; i++)
            to[i] = from[i] + first.Factor * first.Term[i] + second.Factor * second.Term[i] + third.Factor * third.Term[i];
    }

    /// <summary>to = from + Σ factors·terms, of the first so many.</summary>
    public static void Sum(double[] to, double[] from, double[][] terms, double[] factors, int count) => Sum(to, from, 1, terms, factors, count);
}
