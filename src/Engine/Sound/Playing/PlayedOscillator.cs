using System.Collections.Immutable;
using System.Numerics;
using Consort.Engine.Sound.Corners;
using Consort.Engine.Sound.Laws;
using Consort.Engine.Sound.Oscillators;
using Consort.Engine.Sound.Shapes;

namespace Consort.Engine.Sound.Playing;

/// <summary>One strip's oscillator at work: its shape or its pulse, at its own interval, behind its sync input.</summary>
internal sealed class PlayedOscillator
{
    private readonly SoundLaw law;
    private readonly Strip strip;
    private readonly int rate;
    private readonly SoundOscillator? shape;
    private readonly WidthOscillator? pulse;
    private readonly int width = -1; // number of the move that moves its pulse width
    private readonly Unrest? unrest;
    private readonly SyncLaw? sync;
    private readonly List<double> due = []; // pulls in the block, samples
    private readonly List<double> late = []; // those after it
    private readonly double[] cycles = new double[2 * SoundOscillator.Block + 1];
    private readonly PulseEdges[] edges = new PulseEdges[SoundOscillator.Block + 1];

    /// <summary>One strip's.</summary>
    /// <param name="unrest">What its pitch does by itself; null: it holds still.</param>
    public PlayedOscillator(SoundLaw law, Strip strip, int rate, CornerKernel kernel, double volts, double phase, Unrest? unrest = null)
    {
        this.unrest = unrest;
        (this.law, this.strip, this.rate) = (law, strip, rate);
        sync = law.Sync?.Sampled(strip.Output, rate);
        for (int i = 0; i < law.Moves.Length; i++)
            if (law.Moves[i].Edges.ContainsKey(strip.Output))
                width = i;
        if (width >= 0)
            pulse = new(kernel, phase);
        else
            shape = new(ShapeAt(volts), kernel, phase);
    }

    /// <summary>One that makes no sound and is there for its turns, which others are pulled by.</summary>
    public static PlayedOscillator Turning(SoundLaw law, double movedCents, int rate, double volts, double phase, Unrest? unrest = null)
    {
        SoundLaw bare = law with
        {
            Waves = ImmutableDictionary<string, WaveLaw>.Empty.Add("", WaveLaw.Of(WaveShape.Saw)),
            Moves = [.. law.Moves.Select(move => move with { Edges = ImmutableDictionary<string, ImmutableArray<PulseEdges>>.Empty })],
        };
        return new(bare, new(bare.Oscillator.Name, "", 0, 0, movedCents), rate, CornerKernel.Naive, volts, phase, unrest);
    }

    /// <summary>By how many samples blocks come out late.</summary>
    public int Late => shape?.Late ?? pulse!.Late;

    /// <summary>Moments at which the last block's phase went through 0.</summary>
    public IReadOnlyList<double> Turns => shape?.Turns ?? [];

    /// <summary>Renders a block.</summary>
    /// <param name="volts">Control voltage: one value that holds, or one for each half sample.</param>
    /// <param name="moved">By move: the player's voltage at each half sample; empty where nothing moves.</param>
    /// <param name="pulls">When the lead pulls it, in samples.</param>
    /// <param name="samples">The block.</param>
    public void Render(ReadOnlySpan<double> volts, double[][] moved, IReadOnlyList<double> pulls, Span<double> samples)
    {
        ReadOnlySpan<double> rates = Rates(volts, moved, samples.Length);
        IReadOnlyList<double> own = sync is null ? [] : Due(pulls, sync.Lag, samples.Length);
        if (pulse is not null)
        {
            (double rise, double fall) = law.EdgesMoved(strip.Output, law.Moves[width], OwnVolts(volts[0]));
            for (int n = 0; n <= samples.Length; n++)
                edges[n] = law.Moves[width].EdgesAt(strip.Output, moved[width][2 * n]).Later(rise, fall);
            pulse.Render(rates, edges.AsSpan(0, samples.Length + 1), own, sync, samples);
        }
        else
        {
            shape!.Change(ShapeAt(volts[0]));
            shape.Render(rates, own, sync, samples);
        }
        unrest?.AddFloor(samples);
    }

    // Pulls by when the output goes over, those of later blocks kept.
    private List<double> Due(IReadOnlyList<double> pulls, double lag, int count)
    {
        due.Clear();
        due.AddRange(late);
        due.AddRange(pulls.Select(pull => pull + lag));
        late.Clear();
        late.AddRange(due.Where(moment => moment >= count).Select(moment => moment - count));
        due.RemoveAll(moment => moment >= count);
        return due;
    }

    private double OwnVolts(double volts) => volts + strip.MovedCents / 1200 * law.Oscillator.Spec.VoltsPerOctave;

    private WaveShape ShapeAt(double volts) => law.Waves[strip.Output].At(OwnVolts(volts));

    private ReadOnlySpan<double> Rates(ReadOnlySpan<double> volts, double[][] moved, int samples)
    {
        bool isMoved = false;
        for (int m = 0; m < law.Moves.Length; m++)
            isMoved |= law.Moves[m].MovesPitch;
        if (volts.Length == 1 && !isMoved && unrest is null)
        {
            cycles[0] = law.Pitch.Hertz(volts[0], strip.MovedCents) / rate;
            return cycles.AsSpan(0, 1);
        }
        Span<double> all = cycles.AsSpan(0, 2 * samples + 1);
        FillCycles(volts, 2 * samples);
        for (int m = 0; m < law.Moves.Length; m++)
            if (law.Moves[m].MovesPitch)
                law.Moves[m].Apply(moved[m], all);
        unrest?.Move(OwnVolts(volts[0]), all);
        return all;
    }

    // A span of a glide by the parabola through its start, middle and end, where the law's own value at the first quarter says
    // that it fits; else its halves. The error is of third order: it is greatest near the quarters.
    private const int Longest = 256; // half samples
    private const int Shortest = 4;
    private const double Near = 1e-7; // of the frequency: a six-thousandth of a cent

    private void FillCycles(ReadOnlySpan<double> volts, int last)
    {
        if (volts.Length == 1)
        {
            Array.Fill(cycles, CyclesAt(volts[0]), 0, last + 1);
            return;
        }
        cycles[0] = CyclesAt(volts[0]);
        int from = 0;
        for (int length = Longest; length >= Shortest; length /= 2)
            for (; from + length <= last; from += length)
            {
                cycles[from + length] = CyclesAt(volts[from + length]);
                FillSpan(volts, from, length, isHalfThere: false);
            }
        for (from++; from <= last; from++)
            cycles[from] = CyclesAt(volts[from]);
    }

    // Both ends are filled, and the middle where the span around it asked for it.
    private void FillSpan(ReadOnlySpan<double> volts, int from, int length, bool isHalfThere)
    {
        int half = length / 2, quarter = length / 4;
        if (!isHalfThere)
            cycles[from + half] = CyclesAt(volts[from + half]);
        double there = cycles[from + quarter] = CyclesAt(volts[from + quarter]);
        SampleMotion motion = SampleMotion.Through(cycles[from], cycles[from + half], cycles[from + length]);
        if (length == Shortest)
            cycles[from + half + quarter] = CyclesAt(volts[from + half + quarter]);
        else if (Math.Abs(motion.At(0.25) - there) > Near * there)
        {
            FillSpan(volts, from, half, isHalfThere: true);
            FillSpan(volts, from + half, half, isHalfThere: false);
        }
        else
            Fill(motion, cycles.AsSpan(from, length));
    }

    private static void Fill(in SampleMotion motion, Span<double> span)
    {
        double step = 1.0 / span.Length;
        (double start, double rise, double curve) = (motion.Start, motion.Rise * step, motion.Curve * step * step);
        // Several values at a time: half of a glide's cost was here and in the search for the highest.
        int i = 1;
        Vector<double> at = Vector.CreateSequence(1.0, 1.0);
        for (; i + Vector<double>.Count <= span.Length; i += Vector<double>.Count, at += new Vector<double>(Vector<double>.Count))
            (new Vector<double>(start) + at * (new Vector<double>(rise) + at * curve)).CopyTo(span[i..]);
        for (; i < span.Length; i++)
            span[i] = start + i * (rise + i * curve);
    }

    private double CyclesAt(double volts) => law.Pitch.Hertz(volts, strip.MovedCents) / rate;
}
