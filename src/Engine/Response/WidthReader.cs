using System.Collections.Immutable;
using Consort.Engine.Circuit;
using Consort.Engine.Sound.Laws;

namespace Consort.Engine.Response;

/// <summary>Reads a pulse's width over the whole way of what moves it.</summary>
/// <param name="driven">With only that output looked at.</param>
/// <param name="drive">What moves it.</param>
/// <param name="low">The pulse's low state, V.</param>
/// <param name="high">Its high state.</param>
/// <param name="kelvins">The temperature at which it stands, and others.</param>
internal sealed class WidthReader(DrivenOscillator driven, Drive drive, double low, double high, ImmutableArray<double> kelvins)
{
    private static readonly double[] Wanted = [0.1, 0.5, 0.9];

    private const int Steps = 20;
    private const int Halvings = 8; // of a step, so that an end is known to 1/5120 of the way
    private const int Secants = 3;

    private readonly List<double> hertz = [];

    /// <summary>The whole sheet.</summary>
    public (WidthSheet? Sheet, SolveFailure? Failure) Read(string output)
    {
        List<WidthPoint> points = [];
        for (int i = 0; i <= Steps; i++)
        {
            (WidthPoint point, SolveFailure? failure) = At(drive.Low + drive.Span * i / Steps);
            if (failure is not null)
                return (null, failure);
            points.Add(point);
        }
        int first = points.FindIndex(point => point.IsAlive);
        int last = points.FindLastIndex(point => point.IsAlive);
        if (first < 0)
            return (new(output, drive, [.. points], null, null, double.NaN, double.NaN, double.NaN, Move()), null);
        (WidthEnd? lower, SolveFailure? lost) = first == 0 ? (null, null) : End(points[first], points[first - 1]);
        (WidthEnd? upper, SolveFailure? gone) = last == Steps ? (null, null) : End(points[last], points[last + 1]);
        (double half, SolveFailure? unfound) = Half(points);
        if ((lost ?? gone ?? unfound) is { } broken)
            return (null, broken);
        (double slope, double bend) = Line([.. points.Where(point => point.IsAlive)]);
        WidthSheet sheet = new(output, drive, [.. points], lower, upper, half, slope, bend, Move()) { Places = [.. Wanted.Select(share => Place(points, share)).Where(double.IsFinite)] };
        (ImmutableArray<WidthDrift> drifts, SolveFailure? cold) = driven.AtEach(kelvins, kelvin => Drifted(sheet.Places, kelvin));
        return cold is not null ? (null, cold) : (sheet with { Drifts = drifts }, null);
    }

    // The first place of a width, by straight lines; NaN when there is none.
    private static double Place(List<WidthPoint> points, double share)
    {
        for (int i = 1; i < points.Count; i++)
            if ((points[i - 1].High - share) * (points[i].High - share) <= 0 && points[i - 1].High != points[i].High)
                return Cut(points[i - 1], points[i], share);
        return double.NaN;
    }

    private (WidthDrift?, SolveFailure?) Drifted(ImmutableArray<double> places, double kelvin)
    {
        double[] shares = new double[places.Length];
        for (int i = 0; i < shares.Length; i++)
        {
            (WidthPoint point, SolveFailure? failure) = At(places[i]);
            if (failure is not null)
                return (null, failure);
            shares[i] = point.High;
        }
        return (new(kelvin, [.. shares]), null);
    }

    private (WidthPoint Point, SolveFailure? Failure) At(double value)
    {
        (SteadyPeriod? period, SolveFailure? failure) = driven.At(drive, value);
        if (period is null)
            return (default, failure);
        if (!double.IsFinite(period.Hertz))
            return (new(value, double.NaN), null);
        hertz.Add(period.Hertz);
        return (new(value, Share(period.Times, period.Volts[0], 0.5 * (low + high))), null);
    }

    /// <summary>Share of one period that a wave is above a level; exactly 0 or 1 when it never crosses it.</summary>
    public static double Share(double[] times, double[] volts, double level)
    {
        double above = 0;
        bool crosses = false;
        for (int i = 1; i < times.Length; i++)
        {
            (double a, double b) = (volts[i - 1] - level, volts[i] - level);
            crosses |= a >= 0 != b >= 0;
            double part = a >= 0 == b >= 0 ? (a >= 0 ? 1 : 0) : Math.Max(a, b) / Math.Abs(a - b);
            above += part * (times[i] - times[i - 1]);
        }
        return crosses ? Math.Clamp(above / (times[^1] - times[0]), 1e-9, 1 - 1e-9) : volts[0] >= level ? 1 : 0;
    }

    private (WidthEnd? End, SolveFailure? Failure) End(WidthPoint alive, WidthPoint dead)
    {
        // Told by the place that is a whole step away: a pulse that is shorter than its comparator's delay may leave either state.
        bool staysHigh = dead.High == 1;
        for (int pass = 0; pass < Halvings; pass++)
        {
            (WidthPoint point, SolveFailure? failure) = At(0.5 * (alive.At + dead.At));
            if (failure is not null)
                return (null, failure);
            (alive, dead) = point.IsAlive ? (point, dead) : (alive, point);
        }
        return (new(0.5 * (alive.At + dead.At), staysHigh, Math.Min(alive.High, 1 - alive.High)), null);
    }

    // The first crossing of a half between two points, made finer by regula falsi.
    private (double At, SolveFailure? Failure) Half(List<WidthPoint> points)
    {
        for (int i = 1; i < points.Count; i++)
        {
            (WidthPoint a, WidthPoint b) = (points[i - 1], points[i]);
            if (!((a.High - 0.5) * (b.High - 0.5) <= 0))
                continue;
            for (int pass = 0; pass < Secants && a.High != b.High; pass++)
            {
                (WidthPoint between, SolveFailure? failure) = At(Cut(a, b));
                if (failure is not null)
                    return (double.NaN, failure);
                (a, b) = (between.High - 0.5) * (b.High - 0.5) <= 0 ? (between, b) : (a, between);
            }
            return (Cut(a, b), null);
        }
        return (double.NaN, null);
    }

    private static double Cut(WidthPoint a, WidthPoint b) =>
        Cut(a, b, 0.5);

    private static double Cut(WidthPoint a, WidthPoint b, double share) =>
        a.High == b.High ? a.At : a.At + (b.At - a.At) * (share - a.High) / (b.High - a.High);

    private static (double Slope, double Bend) Line(WidthPoint[] alive)
    {
        if (alive.Length < 3)
            return (double.NaN, double.NaN);
        (double at, double high) = (alive.Average(point => point.At), alive.Average(point => point.High));
        double slope = alive.Sum(point => (point.At - at) * (point.High - high)) / alive.Sum(point => (point.At - at) * (point.At - at));
        return (slope, alive.Max(point => Math.Abs(point.High - high - slope * (point.At - at))));
    }

    private double Move() => hertz.Count == 0 ? double.NaN : 1200 * Math.Log2(hertz.Max() / hertz.Min());
}
