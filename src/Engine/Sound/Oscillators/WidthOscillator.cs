using Consort.Engine.Quantities;
using Consort.Engine.Sound.Corners;

namespace Consort.Engine.Sound.Oscillators;

/// <summary>Where a pulse's edges stand in its oscillator's period.</summary>
/// <param name="Rise">Phase at which it goes high.</param>
/// <param name="Fall">Phase at which it goes low.</param>
/// <param name="Low">V.</param>
/// <param name="High">V.</param>
/// <param name="Stuck">Null while there is a pulse; else the voltage at which it stands still.</param>
public readonly record struct PulseEdges(double Rise, double Fall, double Low, double High, double? Stuck = null)
{
    /// <summary>The same with its edges so much later in the period.</summary>
    public PulseEdges Later(double rise, double fall) => this with { Rise = Turns.Part(Rise + rise), Fall = Turns.Part(Fall + fall) };
}

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
        this.phase = Turns.Part(phase);
        track = new(kernel, SoundOscillator.Block);
    }

    /// <summary>By how many samples blocks come out late.</summary>
    public int Late => track.Ahead;

    /// <summary>Renders a block.</summary>
    /// <param name="cycles">As for <see cref="SoundOscillator.Render"/>.</param>
    /// <param name="edges">One that holds, or one for each sample's start and one for the last's end; straight lines between.</param>
    /// <param name="pulls">Moments at which it is pulled, in samples.</param>
    /// <param name="law">What a pull does.</param>
    /// <param name="samples">The block.</param>
    public void Render(ReadOnlySpan<double> cycles, ReadOnlySpan<PulseEdges> edges, IReadOnlyList<double> pulls, SyncLaw? law, Span<double> samples)
    {
        int pull = 0;
        bool steady = cycles.Length == 1;
        SampleMotion motion = new(cycles[0], 0, 0);
        for (int n = 0; n < samples.Length; n++)
        {
            MovingEdges now = edges.Length == 1 ? new(edges[0], edges[0]) : new(edges[n], edges[n + 1]);
            if (double.IsNaN(level))
                level = LevelAt(now.Start, phase);
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
        at = Math.Max(0, at);
        bool high = edges.Rise <= edges.Fall ? at >= edges.Rise && at < edges.Fall : at >= edges.Rise || at < edges.Fall;
        return high ? edges.High : edges.Low;
    }

    // All that happens in one sample: edges, turns, pulls, in their order.
    private void Move(int n, in SampleMotion motion, MovingEdges edges, IReadOnlyList<double> pulls, ref int pull, SyncLaw? law)
    {
        double offset = phase;
        double whole = motion.Gain(1);
        double now = 0;
        Set(n, 0, LevelAt(edges.Start, phase)); // an edge that moved over the phase
        bool hasRisen = phase >= edges.Start.Rise, hasFallen = phase >= edges.Start.Fall;
        while (true)
        {
            double atTurn = offset + whole >= 1 ? motion.When(1 - offset, now) : double.PositiveInfinity;
            double atRise = hasRisen ? double.PositiveInfinity : edges.Meets(motion, offset, edges.Start.Rise, edges.RiseMoves, now);
            double atFall = hasFallen ? double.PositiveInfinity : edges.Meets(motion, offset, edges.Start.Fall, edges.FallMoves, now);
            double atPull = pull < pulls.Count && pulls[pull] < n + 1 ? Math.Max(now, pulls[pull] - n) : double.PositiveInfinity;
            now = Math.Min(Math.Min(atTurn, atPull), Math.Min(atRise, atFall));
            if (double.IsInfinity(now))
                break;
            if (now == atRise || now == atFall)
            {
                bool rises = now == atRise;
                (hasRisen, hasFallen) = (hasRisen || rises, hasFallen || !rises);
                Set(n, now, rises ? edges.Start.High : edges.Start.Low);
            }
            else if (now == atTurn)
            {
                offset -= 1;
                (hasRisen, hasFallen) = (false, false);
            }
            else
            {
                pull++;
                double before = offset + motion.Gain(now);
                double after = law!.After(before, motion.At(now));
                if (Math.Abs(after - before) < SoundOscillator.Unmoved)
                    continue;
                double turned = after + law.Passed(before, motion.At(now), after);
                (after, turned) = turned >= 1 ? (after - 1, turned - 1) : (after, turned);
                offset = after - motion.Gain(now);
                PulseEdges there = edges.At(now);
                (hasRisen, hasFallen) = (turned >= there.Rise, turned >= there.Fall);
                Set(n, now, LevelAt(there, turned));
            }
        }
        phase = offset + whole;
        phase -= phase >= 1 ? 1 : 0;
    }

    /// <summary>Edges that move along straight lines over one sample; where a pulse stands still at either end they are held.</summary>
    private readonly record struct MovingEdges(PulseEdges Start, PulseEdges End)
    {
        public double RiseMoves => Start.Stuck is null && End.Stuck is null ? ShortWay(End.Rise - Start.Rise) : 0;

        public double FallMoves => Start.Stuck is null && End.Stuck is null ? ShortWay(End.Fall - Start.Fall) : 0;

        public PulseEdges At(double now) => Start with { Rise = Start.Rise + now * RiseMoves, Fall = Start.Fall + now * FallMoves };

        /// <summary>When a phase that starts at an offset meets an edge, not before a moment; infinity when not in this sample.</summary>
        public double Meets(in SampleMotion motion, double offset, double edge, double moves, double from)
        {
            if (Start.Stuck is not null || offset + motion.Gain(1) < edge + moves)
                return double.PositiveInfinity;
            return (motion with { Start = motion.Start - moves }).When(edge - offset, from);
        }

        private static double ShortWay(double by) => by - Math.Round(by);
    }

    private void Set(int n, double now, double wanted)
    {
        if (wanted == level)
            return;
        track.Add(n, now, wanted - level, 0);
        level = wanted;
    }
}
