using Consort.Engine.Sound.Corners;

namespace Consort.Engine.Sound.Oscillators;

/// <summary>Where a pulse's edges stand in its oscillator's period.</summary>
/// <param name="Rise">Phase at which it goes high.</param>
/// <param name="Fall">Phase at which it goes low.</param>
/// <param name="Low">V.</param>
/// <param name="High">V.</param>
/// <param name="Stuck">Null while there is a pulse; else the voltage at which it stands still.</param>
public readonly record struct PulseEdges(double Rise, double Fall, double Low, double High, double? Stuck = null);

/// <summary>
/// A pulse whose edges move: each is a jump at its own moment between the samples. Left out: that a real edge lasts a
/// microsecond or so (sin(x)/x of it takes 0.006 dB off at 20 kHz for 1 µs).
/// </summary>
public sealed class WidthOscillator
{
    private readonly CornerTrack track;
    private double phase;
    private double level = double.NaN;

    /// <summary>Plays from a phase.</summary>
    public WidthOscillator(CornerKernel kernel, double phase = 0)
    {
        this.phase = phase - Math.Floor(phase);
        track = new(kernel, SoundOscillator.Block);
    }

    /// <summary>By how many samples blocks come out late.</summary>
    public int Late => track.Ahead;

    /// <summary>Renders a block.</summary>
    /// <param name="cycles">As for <see cref="SoundOscillator.Render"/>.</param>
    /// <param name="edges">One that holds, or one for each sample's start.</param>
    /// <param name="pulls">Moments at which the phase is set back, in samples.</param>
    /// <param name="law">What a pull does.</param>
    /// <param name="samples">The block.</param>
    public void Render(ReadOnlySpan<double> cycles, ReadOnlySpan<PulseEdges> edges, IReadOnlyList<double> pulls, SyncLaw law, Span<double> samples)
    {
        int pull = 0;
        bool steady = cycles.Length == 1;
        SampleMotion motion = new(cycles[0], 0, 0);
        for (int n = 0; n < samples.Length; n++)
        {
            PulseEdges now = edges[edges.Length == 1 ? 0 : n];
            if (double.IsNaN(level))
                level = LevelAt(now, phase);
            samples[n] = level;
            if (!steady)
                motion = SampleMotion.Through(cycles[2 * n], cycles[2 * n + 1], cycles[2 * n + 2]);
            Move(n, motion, now, pulls, ref pull, law);
        }
        track.Finish(samples);
    }

    private static double LevelAt(PulseEdges edges, double at)
    {
        if (edges.Stuck is { } stuck)
            return stuck;
        bool high = edges.Rise <= edges.Fall ? at >= edges.Rise && at < edges.Fall : at >= edges.Rise || at < edges.Fall;
        return high ? edges.High : edges.Low;
    }

    // All that happens in one sample: edges, turns, pulls, in their order. The edges are held over the sample.
    private void Move(int n, in SampleMotion motion, PulseEdges edges, IReadOnlyList<double> pulls, ref int pull, SyncLaw law)
    {
        double offset = phase;
        double whole = motion.Gain(1);
        double now = 0;
        double passed = phase; // edges up to here are done, whatever rounding makes of the phase
        Set(n, 0, LevelAt(edges, phase)); // an edge that moved over the phase
        while (true)
        {
            double next = NextEdge(edges, passed);
            double atEdge = offset + whole >= next ? motion.When(next - offset, now) : double.PositiveInfinity;
            double atPull = pull < pulls.Count && pulls[pull] < n + 1 ? Math.Max(now, pulls[pull] - n) : double.PositiveInfinity;
            if (double.IsInfinity(atEdge) && double.IsInfinity(atPull))
                break;
            now = Math.Min(atEdge, atPull);
            if (atPull < atEdge)
            {
                pull++;
                if (offset + motion.Gain(now) < law.From)
                    continue;
                offset = law.To - motion.Gain(now);
                passed = law.To;
                Set(n, now, LevelAt(edges, law.To));
                continue;
            }
            passed = next < 1 ? next : 0;
            offset -= next < 1 ? 0 : 1;
            Set(n, now, LevelAt(edges, passed));
        }
        phase = Math.Max(0, offset + whole);
        phase -= Math.Floor(phase);
    }

    private static double NextEdge(PulseEdges edges, double passed)
    {
        double next = 1;
        if (edges.Stuck is not null)
            return next;
        if (edges.Rise > passed)
            next = Math.Min(next, edges.Rise);
        if (edges.Fall > passed)
            next = Math.Min(next, edges.Fall);
        return next;
    }

    private void Set(int n, double now, double wanted)
    {
        if (wanted == level)
            return;
        track.Add(n, now, wanted - level, 0);
        level = wanted;
    }
}
