using System.Numerics;
using Consort.Engine.Sound.Corners;
using Consort.Engine.Sound.Shapes;

namespace Consort.Engine.Sound.Oscillators;

/// <summary>
/// Plays a shape, event by event: every corner and every reset stands at its own moment between the samples, and goes into
/// them through a kernel.
/// </summary>
public sealed class SoundOscillator
{
    /// <summary>Samples in a block at most.</summary>
    public const int Block = 256;

    /// <summary>A pull that moves the phase by less does nothing: rounding.</summary>
    internal const double Unmoved = 1e-9;

    private readonly CornerTrack track;
    private readonly double highest;
    private readonly List<double> turns = [];
    private WaveShape shape;
    private WaveShape? coming;
    private double[]? table;
    private int level = -1;
    private static readonly double[] Nothing = [0, 0];
    private int piece;
    private double phase;

    /// <summary>Plays a shape from a phase.</summary>
    public SoundOscillator(WaveShape shape, CornerKernel kernel, double phase = 0)
    {
        (this.shape, this.phase) = (shape, Quantities.Turns.Part(phase));
        track = new(kernel, Block);
        highest = 0.5 * kernel.Passband;
        piece = PieceAt(this.phase);
    }

    /// <summary>By how many samples blocks come out late.</summary>
    public int Late => track.Ahead;

    /// <summary>Phase at the end of the last block, 0 to 1.</summary>
    public double Phase => phase;

    /// <summary>Moments at which the last block's phase went through 0, in samples from its start.</summary>
    public IReadOnlyList<double> Turns => turns;

    /// <summary>Goes over to another shape at the next turn.</summary>
    public void Change(WaveShape next) => coming = ReferenceEquals(next, shape) ? null : next;

    /// <summary>Renders a block.</summary>
    /// <param name="cycles">Cycles a sample: one value that holds, or one for each sample's start and middle and the last end.</param>
    /// <param name="pulls">Moments at which its sync input is pulled, in samples from the block's start, rising.</param>
    /// <param name="law">What a pull does, its pitches in cycles a sample; null when nothing pulls.</param>
    /// <param name="samples">The block, <see cref="Late"/> samples late.</param>
    public void Render(ReadOnlySpan<double> cycles, IReadOnlyList<double> pulls, SyncLaw? law, Span<double> samples)
    {
        turns.Clear();
        TakeTable(cycles);
        int pull = 0;
        bool steady = cycles.Length == 1;
        SampleMotion motion = new(cycles[0], 0, 0);
        for (int n = 0; n < samples.Length; n++)
        {
            int until = pull < pulls.Count ? (int)pulls[pull] : samples.Length;
            if ((n = steady ? Run(n, cycles[0], until, samples) : Run(n, cycles, until, samples)) == samples.Length)
                break;
            samples[n] = ValueAt(phase);
            if (!steady)
                motion = SampleMotion.Through(cycles[2 * n], cycles[2 * n + 1], cycles[2 * n + 2]);
            double end = phase + motion.Gain(1);
            bool isPulled = pull < pulls.Count && pulls[pull] < n + 1;
            if (end < NextCorner && !isPulled)
                phase = end;
            else
                Cross(n, motion, pulls, ref pull, law);
        }
        track.Finish(samples);
    }

    // The samples in which nothing happens, up to one in which something may: the same sums as the loop's, without its questions.
    private int Run(int from, double rate, int until, Span<double> samples)
    {
        double next = NextCorner, at = phase;
        (double value, double slope, double start) = (shape.Values[piece], shape.Slopes[piece], shape.Phases[piece]);
        int n = from;
        int end = Math.Min(until, samples.Length);
        if (table is not { } entries)
            for (; n < end && at + rate < next; n++, at += rate)
                samples[n] = value + slope * (at - start);
        else
        {
            double length = entries.Length - 1;
            int last = entries.Length - 2;
            for (; n < end && at + rate < next; n++, at += rate)
            {
                double place = at * length;
                int i = Math.Clamp((int)place, 0, last);
                samples[n] = value + slope * (at - start) + (entries[i] + (entries[i + 1] - entries[i]) * (place - i));
            }
        }
        phase = at;
        return n;
    }

    // The same at a rate that moves.
    private int Run(int from, ReadOnlySpan<double> cycles, int until, Span<double> samples)
    {
        double next = NextCorner, at = phase;
        (double value, double slope, double start) = (shape.Values[piece], shape.Slopes[piece], shape.Phases[piece]);
        double[] entries = table ?? Nothing;
        double length = entries.Length - 1;
        int last = entries.Length - 2;
        int n = from;
        int end = Math.Min(until, samples.Length);
        double before = cycles[2 * n];
        ReadOnlySpan<double> rates = cycles.Slice(2 * n + 1, 2 * Math.Max(0, end - n));
        for (int k = 0; k + 1 < rates.Length; k += 2, n++)
        {
            // Simpson's rule is exact for the parabola.
            double after = rates[k + 1];
            double gone = at + (before + 4 * rates[k] + after) * (1.0 / 6);
            if (gone >= next)
                break;
            double place = at * length;
            int i = Math.Clamp((int)place, 0, last); // loud noise may turn a phase back below 0
            samples[n] = value + slope * (at - start) + (entries[i] + (entries[i + 1] - entries[i]) * (place - i));
            (at, before) = (gone, after);
        }
        phase = at;
        return n;
    }

    private double NextCorner => piece + 1 < shape.Phases.Length ? shape.Phases[piece + 1] : 1;

    // A sample in which something happens.
    private void Cross(int n, in SampleMotion motion, IReadOnlyList<double> pulls, ref int pull, SyncLaw? law)
    {
        double offset = phase;
        double whole = motion.Gain(1);
        double now = 0;
        while (true)
        {
            double corner = NextCorner;
            double atCorner = offset + whole >= corner ? motion.When(corner - offset, now) : double.PositiveInfinity;
            double atPull = pull < pulls.Count && pulls[pull] < n + 1 ? Math.Max(now, pulls[pull] - n) : double.PositiveInfinity;
            if (double.IsInfinity(atCorner) && double.IsInfinity(atPull))
                break;
            if (atCorner <= atPull)
            {
                now = atCorner;
                if (TakeCorner(n, now, motion.At(now)))
                    offset -= 1;
            }
            else
            {
                now = atPull;
                pull++;
                double before = offset + motion.Gain(now);
                double after = law!.After(before, motion.At(now));
                if (Math.Abs(after - before) < Unmoved)
                    continue;
                offset = TakePull(n, now, motion.At(now), before, after, law) - motion.Gain(now);
            }
        }
        phase = offset + whole;
    }

    // True when the period is over.
    private bool TakeCorner(int n, double now, double rate)
    {
        bool turns = piece + 1 == shape.Phases.Length;
        piece = turns ? 0 : piece + 1;
        double jump = shape.Jumps[piece];
        double bend = shape.Bends[piece] * rate;
        if (turns && coming is { } next)
        {
            double before = shape.Values[0] - jump + RestAt(0);
            double slope = shape.Slopes[^1];
            (shape, coming, level) = (next, null, -1);
            TakeTable([rate]);
            jump = shape.Values[0] + RestAt(0) - before;
            bend = (shape.Slopes[0] - slope) * rate;
        }
        if (turns)
            this.turns.Add(n + now);
        if (jump != 0 || bend != 0)
            track.Add(n, now, jump, bend);
        return turns;
    }

    // Gives the phase at which it goes on: below 0 where the turn is behind it already.
    private double TakePull(int n, double now, double rate, double from, double to, SyncLaw law)
    {
        (double value, double slope) = (ValueAt(from), SlopeAt(from));
        double turned = to + law.Passed(from, rate, to);
        to -= turned >= 1 ? 1 : 0;
        piece = PieceAt(Quantities.Turns.Part(turned));
        track.Add(n, now, ValueAt(to) - value, (SlopeAt(to) - slope) * rate);
        return to;
    }

    private int PieceAt(double at)
    {
        int i = Array.BinarySearch(shape.Phases, at);
        return i >= 0 ? i : ~i - 1;
    }

    private double ValueAt(double at) => shape.Values[piece] + shape.Slopes[piece] * (at - shape.Phases[piece]) + RestAt(at);

    private double RestAt(double at)
    {
        if (table is null)
            return 0;
        double place = at * (table.Length - 1);
        int i = Math.Clamp((int)place, 0, table.Length - 2);
        return table[i] + (table[i + 1] - table[i]) * (place - i);
    }

    private double SlopeAt(double at)
    {
        if (table is null)
            return shape.Slopes[piece];
        int i = Math.Clamp((int)(at * (table.Length - 1)), 0, table.Length - 2);
        return shape.Slopes[piece] + (table[i + 1] - table[i]) * (table.Length - 1);
    }

    private static double Highest(ReadOnlySpan<double> cycles)
    {
        Vector<double> most = Vector<double>.Zero;
        int i = 0;
        for (; i + Vector<double>.Count <= cycles.Length; i += Vector<double>.Count)
            most = Vector.Max(most, new Vector<double>(cycles[i..]));
        double highest = 0;
        for (; i < cycles.Length; i++)
            highest = cycles[i] > highest ? cycles[i] : highest;
        for (int lane = 0; lane < Vector<double>.Count; lane++)
            highest = most[lane] > highest ? most[lane] : highest;
        return highest;
    }

    // The table whose harmonics stay below the pass band's end at the block's highest rate.
    private void TakeTable(ReadOnlySpan<double> cycles)
    {
        if (shape.Rest is not { } rest)
        {
            table = null;
            return;
        }
        int wanted = rest.Level(Highest(cycles), highest);
        if (wanted == level)
            return;
        (level, table) = (wanted, rest.Entries(wanted));
    }
}
