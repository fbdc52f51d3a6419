using System.Collections.Immutable;
using Consort.Engine.Quantities;

namespace Consort.Engine.Sound.Oscillators;

/// <summary>
/// At which phase an oscillator goes on after it was pulled, by the phase at which it stood: straight lines over phases 0 to 1,
/// with jumps between them. A saw that is reset, a triangle that is turned round and one that is only moved are all this.
/// </summary>
public sealed class PhaseMap
{
    // Two samples that differ by more do not lie on one line: somewhere between them it jumps.
    private const double Jump = 0.1;

    private const double Setting = 0.2; // turns a turn

    private readonly double[] phases; // where each line begins, rising from 0
    private readonly double[] afters; // there
    private readonly double[] slopes;

    private PhaseMap(IReadOnlyList<(double Before, double After)> points)
    {
        List<double> starts = [], values = [], rises = [];
        for (int i = 0; i + 1 < points.Count; i++)
        {
            double length = points[i + 1].Before - points[i].Before;
            if (length <= 0)
                continue;
            starts.Add(points[i].Before);
            values.Add(points[i].After);
            rises.Add((points[i + 1].After - points[i].After) / length);
        }
        (phases, afters, slopes) = ([.. starts], [.. values], [.. rises]);
    }

    /// <summary>A reset to a phase for one that stands past another; before, it goes on undisturbed.</summary>
    public static PhaseMap Reset(double from, double to = 0) => new([(0, 0), (from, from), (from, to), (1, to)]);

    /// <summary>Through samples, phases 0 to 1 of any order.</summary>
    public static PhaseMap Through(IEnumerable<(double Before, double After)> samples)
    {
        ImmutableArray<(double Before, double After)> sorted = [.. samples.OrderBy(sample => sample.Before)];
        (double Before, double After) first = sorted[0], last = sorted[^1];
        List<(double Before, double After)> points = [(last.Before - 1, last.After), .. sorted, (first.Before + 1, first.After)];
        List<(double Before, double After)> lines = [points[0]];
        for (int i = 1; i < points.Count; i++)
            Join(lines, points[i]);
        return new([.. Cut(lines)]);
    }

    // The short way round from the last point; a jump in the middle where the short way is not short.
    private static void Join(List<(double Before, double After)> lines, (double Before, double After) next)
    {
        (double before, double after) = lines[^1];
        double there = after + Turns.Short(next.After - after);
        double middle = 0.5 * (before + next.Before);
        if (Math.Abs(there - after) > Jump + next.Before - before)
            lines.AddRange([(middle, after), (middle, there)]);
        lines.Add((next.Before, there));
    }

    // The part over phases 0 to 1.
    private static IEnumerable<(double, double)> Cut(List<(double Before, double After)> lines)
    {
        int first = lines.FindLastIndex(point => point.Before <= 0), last = lines.FindIndex(point => point.Before >= 1);
        yield return (0, At(lines[first], lines[first + 1], 0));
        for (int i = first + 1; i < last; i++)
            yield return lines[i];
        yield return (1, At(lines[last - 1], lines[last], 1));
    }

    private static double At((double Before, double After) a, (double Before, double After) b, double phase) =>
        b.Before > a.Before ? a.After + (b.After - a.After) * (phase - a.Before) / (b.Before - a.Before) : a.After;

    /// <summary>The phase after, 0 to 1.</summary>
    public double After(double phase)
    {
        int i = Line(phase);
        return Turns.Part(afters[i] + slopes[i] * (phase - phases[i]));
    }

    private int Line(double phase)
    {
        int i = Array.BinarySearch(phases, Math.Clamp(phase, 0, 1));
        return i >= 0 ? i : ~i - 1;
    }

    /// <summary>True where the phase after hardly hangs on the one before: a pull that sets it, as a reset does.</summary>
    public bool Sets(double phase) => Math.Abs(slopes[Line(phase)]) < Setting;

    /// <summary>Between this map and another; the nearer one's where they differ by a jump.</summary>
    public double After(double phase, PhaseMap other, double share)
    {
        double here = After(phase);
        double apart = Turns.Short(other.After(phase) - here);
        return Turns.Part(Math.Abs(apart) > Jump ? here + (share < 0.5 ? 0 : apart) : here + share * apart);
    }
}
