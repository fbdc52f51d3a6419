using System.Collections.Immutable;
using MathNet.Numerics.Interpolation;

namespace Consort.Engine.Response;

/// <summary>A frequency law read at rest, and what a slow sine at its input makes of it.</summary>
internal sealed class FrequencyLaw
{
    private const int Nodes = 256;
    private readonly CubicSpline spline;
    private readonly ImmutableArray<FrequencyPoint> points;

    /// <summary>Joined by the spline of Akima, which does not overshoot beside a bend; nothing where it does not oscillate.</summary>
    public FrequencyLaw(ImmutableArray<FrequencyPoint> points)
    {
        this.points = points;
        spline = CubicSpline.InterpolateAkimaSorted([.. points.Select(point => point.Volts)], [.. points.Select(point => Alive(point.Hertz))]);
    }

    /// <summary>Hz at a voltage.</summary>
    public double At(double volts) => Math.Max(0, spline.Interpolate(Math.Clamp(volts, points[0].Volts, points[^1].Volts)));

    /// <summary>Half of the way between the extremes under a sine of that peak, and the mean over its cycle: at the nodes of
    /// Chebyshev and Gauss, which a smooth law leaves nothing at.</summary>
    public (double Deviation, double Mean) Under(double peak)
    {
        double[] reached = [.. Enumerable.Range(0, Nodes).Select(i => At(peak * Math.Cos(Math.PI * (i + 0.5) / Nodes)))];
        double[] ends = [At(-peak), At(peak)];
        return (0.5 * (reached.Concat(ends).Max() - reached.Concat(ends).Min()), reached.Average());
    }

    /// <summary>True when equal voltages add equal hertz rather than equal intervals.</summary>
    public bool IsLinear(double volts)
    {
        (double down, double up) = (At(-volts) / At(0), At(volts) / At(0));
        return Math.Abs(up + down - 2) < Math.Abs(up * down - 1);
    }

    private static double Alive(double hertz) => double.IsFinite(hertz) ? hertz : 0;
}
