using System.Collections.Immutable;

namespace Consort.Engine.Sound.Drift;

/// <summary>How warm all parts are while a piece is played.</summary>
/// <param name="Points">Moments of the piece, s, and temperatures, K; straight lines between, level before and behind.</param>
/// <param name="Rise">By how much parts come up after power-on, K; 0: they are warm.</param>
/// <param name="TimeConstant">With which they do, s.</param>
/// <param name="OnFor">For how long it has been on when the piece begins, s.</param>
public sealed record TemperatureCourse(ImmutableArray<(double Seconds, double Kelvin)> Points, double Rise = 0, double TimeConstant = TemperatureCourse.UsualTimeConstant, double OnFor = 0)
{
    /// <summary>Time constant of a module's parts behind a panel in a case, s: common practice, no source.</summary>
    public const double UsualTimeConstant = 600;

    /// <summary>Temperature at a moment of the piece, K: a body with one time constant (Newton's law of cooling).</summary>
    public double KelvinAt(double seconds) => AroundAt(seconds) - Rise * Math.Exp(-(OnFor + Math.Max(0, seconds)) / TimeConstant);

    /// <summary>Lowest and highest within a piece, K.</summary>
    public (double Low, double High) Range(double seconds)
    {
        double[] moments = [.. Enumerable.Range(0, 65).Select(i => seconds * i / 64), .. Points.Select(point => Math.Clamp(point.Seconds, 0, seconds))];
        double[] kelvins = [.. moments.Select(KelvinAt)];
        return (kelvins.Min(), kelvins.Max());
    }

    private double AroundAt(double seconds)
    {
        int next = 0;
        while (next < Points.Length && Points[next].Seconds < seconds)
            next++;
        if (next == 0 || next == Points.Length)
            return Points[Math.Min(next, Points.Length - 1)].Kelvin;
        ((double from, double a), (double to, double b)) = (Points[next - 1], Points[next]);
        return a + (b - a) * (seconds - from) / (to - from);
    }
}
