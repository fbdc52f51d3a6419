namespace Consort.Engine.Sound.Shapes;

/// <summary>
/// One period of a wave over phase 0 to 1: a skeleton of straight lines with its jumps and bends, and what is left beside it
/// as a band-limited table. Corners of the skeleton can be placed anywhere between samples; the table has none.
/// </summary>
public sealed class WaveShape
{
    /// <summary>Where each straight line begins, rising from 0; the first is 0.</summary>
    internal double[] Phases { get; }

    /// <summary>Value where it begins.</summary>
    internal double[] Values { get; }

    /// <summary>Its slope, per period.</summary>
    internal double[] Slopes { get; }

    /// <summary>Jump of the value where it begins.</summary>
    internal double[] Jumps { get; }

    /// <summary>Bend of the slope where it begins, per period.</summary>
    internal double[] Bends { get; }

    /// <summary>What is left beside the skeleton; null when nothing is.</summary>
    public SmoothTable? Rest { get; }

    private WaveShape(double[] phases, double[] values, double[] slopes, SmoothTable? rest)
    {
        (Phases, Values, Slopes, Rest) = (phases, values, slopes, rest);
        int count = phases.Length;
        (Jumps, Bends) = (new double[count], new double[count]);
        for (int i = 0; i < count; i++)
        {
            int before = (i + count - 1) % count;
            double length = (i == 0 ? 1 : phases[i]) - phases[before];
            Jumps[i] = values[i] - (values[before] + slopes[before] * length);
            Bends[i] = slopes[i] - slopes[before];
            if (Math.Abs(Jumps[i]) < 1e-12 * (1 + Math.Abs(values[i])))
                Jumps[i] = 0; // rounding
        }
    }

    /// <summary>A wave of straight lines through points; two at one phase are a jump. The first is at phase 0, the last at 1.</summary>
    public static WaveShape Of(IReadOnlyList<(double Phase, double Value)> points, SmoothTable? rest = null)
    {
        List<double> phases = [], values = [], slopes = [];
        for (int i = 0; i + 1 < points.Count; i++)
        {
            double length = points[i + 1].Phase - points[i].Phase;
            if (length <= 0)
                continue;
            phases.Add(points[i].Phase);
            values.Add(points[i].Value);
            slopes.Add((points[i + 1].Value - points[i].Value) / length);
        }
        return new([.. phases], [.. values], [.. slopes], rest);
    }

    /// <summary>A rising saw from −1 to 1.</summary>
    public static WaveShape Saw { get; } = Of([(0, -1), (1, 1)]);

    /// <summary>A pulse of that duty, 1 and then −1.</summary>
    public static WaveShape Pulse(double duty) => Of([(0, 1), (duty, 1), (duty, -1), (1, -1)]);

    /// <summary>A triangle from −1 to 1 and back.</summary>
    public static WaveShape Triangle { get; } = Of([(0, -1), (0.5, 1), (1, -1)]);

    /// <summary>A sine.</summary>
    public static WaveShape Sine { get; } = Of([(0, 0), (1, 0)], SmoothTable.Of([new(0, -1)]));

    /// <summary>The furthest that it goes from its mean, to a thousandth of its height.</summary>
    public double Reach
    {
        get
        {
            double[] values = [.. Enumerable.Range(0, ReachPoints).Select(i => SkeletonAt((i + 0.5) / ReachPoints) + TableAt(i))];
            double mean = values.Average();
            return values.Max(value => Math.Abs(value - mean));
        }
    }

    private const int ReachPoints = 2048;

    private double TableAt(int i) => Rest?.Entries(0) is { } table ? table[(int)((i + 0.5) / ReachPoints * (table.Length - 1))] : 0;

    /// <summary>The skeleton's value, for comparisons.</summary>
    public double SkeletonAt(double phase)
    {
        int i = Array.BinarySearch(Phases, phase);
        i = i >= 0 ? i : ~i - 1;
        return Values[i] + Slopes[i] * (phase - Phases[i]);
    }
}
