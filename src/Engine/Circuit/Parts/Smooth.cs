using System.Runtime.CompilerServices;

namespace Consort.Engine.Circuit.Parts;

/// <summary>Corners with a continuous slope, exact away from the corner and finite everywhere.</summary>
internal static class Smooth
{
    // e^-45 is a hundred-millionth of the rounding of 1: past it a corner's tail is exactly its straight line.
    private const double Far = 45;

    /// <summary>w·ln(1 + exp(v/w)): 0 for v far below zero, v far above.</summary>
    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    public static double Positive(double v, double width, out double slope)
    {
        double x = v / width;
        if (x < -Far)
        {
            slope = 0;
            return 0;
        }
        if (x > Far)
        {
            slope = 1;
            return v;
        }
        double e = Math.Exp(-Math.Abs(x));
        slope = x > 0 ? 1 / (1 + e) : e / (1 + e);
        return Math.Max(v, 0) + width * Math.Log(1 + e);
    }

    /// <summary>tanh(z), by its series where that is exact to the last bit.</summary>
    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    public static double Tanh(double z, out double slope)
    {
        double y = z * z;
        double t = y < 2e-4 ? z * (1 - y * (1.0 / 3 - y * (2.0 / 15 - y * (17.0 / 315)))) : Math.Tanh(z);
        slope = 1 - t * t;
        return t;
    }

    /// <summary>0 below zero, 1 above a width, 3x² − 2x³ between.</summary>
    public static double Step(double v, double width, out double slope)
    {
        slope = 0;
        if (v <= 0)
            return 0;
        if (v >= width)
            return 1;
        double x = v / width;
        slope = 6 * x * (1 - x) / width;
        return x * x * (3 - 2 * x);
    }

    /// <summary>
    /// x/(1 + x^16)^(1/16): x to within 1e-10 relative below 0.28, ±1 far above.
    /// </summary>
    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    public static double Saturated(double x, out double slope)
    {
        double size = Math.Abs(x);
        if (size < 0.1)
        {
            slope = 1; // x^16 is below the rounding of 1
            return x;
        }
        bool isSmall = size < 1;
        double base2 = isSmall ? x * x : 1 / (x * x);
        double base4 = base2 * base2;
        double base8 = base4 * base4;
        double base16 = base8 * base8;
        double root = Math.Sqrt(Math.Sqrt(Math.Sqrt(Math.Sqrt(1 + base16))));
        if (isSmall)
        {
            slope = 1 / (root * (1 + base16));
            return x / root;
        }
        slope = base16 / (size * root * (1 + base16));
        return Math.Sign(x) / root;
    }
}
