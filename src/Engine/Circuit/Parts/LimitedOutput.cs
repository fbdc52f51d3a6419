using System.Runtime.CompilerServices;

namespace Consort.Engine.Circuit.Parts;

/// <summary>
/// A resistance that carries no more than a limit: exactly v/R (to 1e-10) up to a quarter of the limit, then bent to the
/// limit. Past it the current still rises by a thousandth of the limit per volt, so that an equation solver never meets a
/// flat.
/// </summary>
internal struct LimitedOutput
{
    private double conductance;
    private double limit;
    private double perLimit;
    private double leftOver;

    /// <summary>From the resistance, ohm, and the current limit, A; infinity for none.</summary>
    public static LimitedOutput From(double resistance, double limit)
    {
        double g = Least.Conductance(resistance);
        return new()
        {
            conductance = g,
            limit = limit,
            perLimit = 1 / limit,
            leftOver = Math.Min(1e-3 * limit / g, 0.5),
        };
    }

    /// <summary>Holds the voltage across it back against the last pass: it may enter the bend, and from there double, so
    /// that a wild guess is not judged by the slope far behind the limit.</summary>
    public readonly double Hold(double v, ref double last, ref bool held)
    {
        double bend = limit / conductance;
        double most = v * last > 0 && Math.Abs(last) >= bend ? 2 * Math.Abs(last) : bend;
        if (Math.Abs(v) > most)
        {
            v = Math.CopySign(most, v);
            held = true;
        }
        return last = v;
    }

    /// <summary>Current at a voltage across it, A, and its slope, S.</summary>
    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    public readonly double Current(double v, out double g)
    {
        double linear = v * conductance;
        double share = linear * perLimit;
        if (Math.Abs(share) < 0.1)
        {
            g = conductance;
            return linear;
        }
        double bent = Smooth.Saturated(share, out double slope);
        g = conductance * (leftOver + (1 - leftOver) * slope);
        return limit * (leftOver * share + (1 - leftOver) * bent);
    }
}
