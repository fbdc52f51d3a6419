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
}
