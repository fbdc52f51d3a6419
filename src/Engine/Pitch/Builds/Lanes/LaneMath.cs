using System.Runtime.CompilerServices;

namespace Consort.Engine.Pitch.Builds.Lanes;

/// <summary>
/// Exponential, logarithm and hyperbolic tangent in lanes, within a few units in the last place (measured against Math in the
/// tests). Reduction with a two-part ln 2 (Cody and Waite, Software Manual for the Elementary Functions, 1980) and the
/// functions' own series.
/// </summary>
internal static class LaneMath
{
    private const double PerLn2 = 1.4426950408889634;
    private const double Ln2High = 0.693147180369123816490; // the low 32 bits are zero, so that n·Ln2High is exact
    private const double Ln2Low = 1.90821492927058770002e-10;
    private const double LeastExponent = -708;
    private const double MostExponent = 709;
    private const double RootTwo = 1.4142135623730951;

    /// <summary>e^x; what lies past −708 or 709 counts as that.</summary>
    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    public static T Exp<T>(T x)
        where T : struct, ILanes<T>
    {
        T less = LessOne(x, out T n);
        return T.Scale(T.Of(1) + less, n);
    }

    /// <summary>e^x − 1 without loss around zero.</summary>
    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    public static T ExpLessOne<T>(T x)
        where T : struct, ILanes<T>
    {
        T less = LessOne(x, out T n);
        T scale = T.Scale(T.Of(1), n);
        return T.Fma(less, scale, scale - T.Of(1));
    }

    /// <summary>ln x for positive normal numbers.</summary>
    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    public static T Log<T>(T x)
        where T : struct, ILanes<T>
    {
        // ln(m·2^e), m from √½ to √2: 2·artanh((m − 1)/(m + 1)) and e·ln 2.
        T m = T.Split(x, out T e);
        T isLarge = T.Less(T.Of(RootTwo), m);
        m = T.Choose(isLarge, T.Of(0.5) * m, m);
        e = T.Choose(isLarge, e + T.Of(1), e);
        T f = m - T.Of(1);
        T s = f / (f + T.Of(2));
        T z = s * s;
        T w = T.Of(1.0 / 21);
        w = T.Fma(w, z, T.Of(1.0 / 19));
        w = T.Fma(w, z, T.Of(1.0 / 17));
        w = T.Fma(w, z, T.Of(1.0 / 15));
        w = T.Fma(w, z, T.Of(1.0 / 13));
        w = T.Fma(w, z, T.Of(1.0 / 11));
        w = T.Fma(w, z, T.Of(1.0 / 9));
        w = T.Fma(w, z, T.Of(1.0 / 7));
        w = T.Fma(w, z, T.Of(1.0 / 5));
        w = T.Fma(w, z, T.Of(1.0 / 3));
        // ln(1 + f) = f − s·(f − 2·z·w), since 2s = f − s·f.
        T tail = T.FmaMinus(s, f - T.Of(2) * z * w, T.Of(0));
        return T.Fma(e, T.Of(Ln2High), f + T.Fma(e, T.Of(Ln2Low), tail));
    }

    /// <summary>tanh x.</summary>
    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    public static T Tanh<T>(T x)
        where T : struct, ILanes<T>
    {
        T less = ExpLessOne(T.Of(-2) * T.Abs(x));
        T size = -less / (less + T.Of(2));
        return T.Choose(T.Less(x, T.Of(0)), -size, size);
    }

    // e^r − 1 with x = n·ln 2 + r, |r| ≤ ln 2/2: r + r²·(1/2! + r/3! + …), in two interleaved halves.
    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    private static T LessOne<T>(T x, out T n)
        where T : struct, ILanes<T>
    {
        x = T.Max(T.Min(x, T.Of(MostExponent)), T.Of(LeastExponent));
        n = T.Round(x * T.Of(PerLn2));
        T r = T.FmaMinus(n, T.Of(Ln2High), x);
        r = T.FmaMinus(n, T.Of(Ln2Low), r);
        T square = r * r;
        T even = T.Fma(T.Of(1.0 / 87178291200), square, T.Of(1.0 / 479001600)); // 1/14!, 1/12!
        T odd = T.Fma(T.Of(1.0 / 6227020800), square, T.Of(1.0 / 39916800)); // 1/13!, 1/11!
        even = T.Fma(even, square, T.Of(1.0 / 3628800));
        odd = T.Fma(odd, square, T.Of(1.0 / 362880));
        even = T.Fma(even, square, T.Of(1.0 / 40320));
        odd = T.Fma(odd, square, T.Of(1.0 / 5040));
        even = T.Fma(even, square, T.Of(1.0 / 720));
        odd = T.Fma(odd, square, T.Of(1.0 / 120));
        even = T.Fma(even, square, T.Of(1.0 / 24));
        odd = T.Fma(odd, square, T.Of(1.0 / 6));
        even = T.Fma(even, square, T.Of(0.5));
        return T.Fma(square, T.Fma(odd, r, even), r);
    }
}
