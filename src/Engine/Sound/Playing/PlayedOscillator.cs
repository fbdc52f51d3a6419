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
    private readonly double[] cycles = new double[2 * SoundOscillator.Block + 1];
    private readonly PulseEdges[] edges = new PulseEdges[SoundOscillator.Block + 1];

    public PlayedOscillator(SoundLaw law, Strip strip, int rate, CornerKernel kernel, double volts, double phase)
    {
        (this.law, this.strip, this.rate) = (law, strip, rate);
        for (int i = 0; i < law.Moves.Length; i++)
            if (law.Moves[i].Edges.ContainsKey(strip.Output))
                width = i;
        if (width >= 0)
            pulse = new(kernel, phase);
        else
            shape = new(ShapeAt(volts), kernel, phase);
    }

    /// <summary>By how many samples blocks come out late.</summary>
    public int Late => shape?.Late ?? pulse!.Late;

    /// <summary>Moments at which the last block's phase went through 0.</summary>
    public IReadOnlyList<double> Turns => shape?.Turns ?? [];

    /// <summary>Renders a block.</summary>
    /// <param name="volts">Control voltage: one value that holds, or one for each half sample.</param>
    /// <param name="moved">By move: the player's voltage at each half sample; empty where nothing moves.</param>
    /// <param name="pulls">The lead's turns.</param>
    /// <param name="samples">The block.</param>
    public void Render(ReadOnlySpan<double> volts, double[][] moved, IReadOnlyList<double> pulls, Span<double> samples)
    {
        ReadOnlySpan<double> rates = Rates(volts, moved, samples.Length);
        IReadOnlyList<double> own = law.Sync is null ? [] : pulls;
        SyncLaw sync = law.Sync ?? default;
        if (pulse is not null)
        {
            for (int n = 0; n <= samples.Length; n++)
                edges[n] = law.Moves[width].EdgesAt(strip.Output, moved[width][2 * n]);
            pulse.Render(rates, edges.AsSpan(0, samples.Length + 1), own, sync, samples);
            return;
        }
        shape!.Change(ShapeAt(volts[0]));
        shape.Render(rates, own, sync, samples);
    }

    private WaveShape ShapeAt(double volts) => law.ShapeAt(strip.Output, volts + strip.MovedCents / 1200 * law.Oscillator.Spec.VoltsPerOctave);

    private ReadOnlySpan<double> Rates(ReadOnlySpan<double> volts, double[][] moved, int samples)
    {
        bool isMoved = false;
        for (int m = 0; m < law.Moves.Length; m++)
            isMoved |= law.Moves[m].MovesPitch;
        if (volts.Length == 1 && !isMoved)
        {
            cycles[0] = law.Pitch.Hertz(volts[0], strip.MovedCents) / rate;
            return cycles.AsSpan(0, 1);
        }
        FillHertz(volts, 2 * samples);
        for (int i = 0; i <= 2 * samples; i++)
        {
            double ratio = 1;
            for (int m = 0; m < law.Moves.Length; m++)
                ratio *= law.Moves[m].Ratio(moved[m][i]);
            cycles[i] *= ratio / rate;
        }
        return cycles.AsSpan(0, 2 * samples + 1);
    }

    // A span of a glide by the parabola through its start, middle and end, unless the voltage runs too far within it: a
    // fiftieth of an octave is kept to 1e-7 of its frequency.
    private const int Span = 16; // half samples
    private const double Near = 0.02; // octaves

    private void FillHertz(ReadOnlySpan<double> volts, int last)
    {
        if (volts.Length == 1)
        {
            Array.Fill(cycles, law.Pitch.Hertz(volts[0], strip.MovedCents), 0, last + 1);
            return;
        }
        cycles[0] = law.Pitch.Hertz(volts[0], strip.MovedCents);
        for (int from = 0; from < last; from += Span)
        {
            int to = Math.Min(last, from + Span);
            bool isNear = to - from == Span && Math.Abs(volts[to] - volts[from]) < Near * law.Oscillator.Spec.VoltsPerOctave;
            if (isNear)
                FillSpan(volts, from);
            else
                for (int i = from + 1; i <= to; i++)
                    cycles[i] = law.Pitch.Hertz(volts[i], strip.MovedCents);
        }
    }

    private void FillSpan(ReadOnlySpan<double> volts, int from)
    {
        double middle = law.Pitch.Hertz(volts[from + Span / 2], strip.MovedCents), end = law.Pitch.Hertz(volts[from + Span], strip.MovedCents);
        SampleMotion motion = SampleMotion.Through(cycles[from], middle, end);
        for (int i = 1; i <= Span; i++)
            cycles[from + i] = motion.At((double)i / Span);
    }
}
