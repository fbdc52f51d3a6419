using System.Collections.Immutable;
using Consort.Engine.Quantities;
using Consort.Engine.Sound.Corners;
using Consort.Engine.Sound.Laws;
using Consort.Engine.Sound.Oscillators;

namespace Consort.Engine.Sound.Playing;

/// <summary>Plays a score on the laws of a voice's oscillators, block by block.</summary>
public sealed class Renderer
{
    private readonly SoundSettings settings;
    private readonly ImmutableArray<SoundLaw> laws;
    private readonly double[] stands; // where each moved player stands, V
    private readonly PlayedOscillator[] strips;
    private readonly SyncMarks sync;
    private readonly PlayedOscillator[] leads; // for their turns, by which others are pulled
    private readonly Control control;
    private readonly double[] phases; // of the moves
    private readonly double[] volts = new double[2 * SoundOscillator.Block + 1];
    private readonly double[][] moved;
    private readonly double[] block = new double[SoundOscillator.Block];

    /// <summary>For laws that were read for these very settings.</summary>
    /// <param name="stands">Where each moved player stands, V.</param>
    /// <param name="kernel">Null for the standard one.</param>
    public Renderer(SoundSettings settings, ImmutableArray<SoundLaw> laws, IEnumerable<double> stands, CornerKernel? kernel = null)
    {
        (this.settings, this.laws, this.stands) = (settings, laws, [.. stands]);
        kernel ??= CornerKernel.Standard;
        UnrestCourse course = UnrestCourse.Of(settings);
        control = new(settings, laws[0].Oscillator);
        control.Take(0);
        double start = double.IsNaN(control.Volts) ? 0 : control.Volts;
        strips = [.. settings.Strips.Select((strip, i) => new PlayedOscillator(LawOf(strip), strip, settings.Rate, kernel, start, StartOf(laws, LawOf(strip)), Unrest.Of(LawOf(strip), course, strip.Output, i, start)))];
        sync = new(settings, laws);
        leads = sync.Leads(settings, laws, course, HeardOscillator.LeadMoved(laws, settings.Strips), start);
        phases = new double[settings.Moves.Length];
        moved = [.. settings.Moves.Select(_ => new double[2 * SoundOscillator.Block + 1])];
    }

    private SoundLaw LawOf(Strip strip) => laws.First(law => law.Oscillator.Name == strip.Oscillator);

    // Free oscillators start anywhere: golden-ratio steps keep any two apart, and every output of one oscillator together.
    internal static double StartOf(ImmutableArray<SoundLaw> laws, SoundLaw law) => Turns.Part(0.6180339887498949 * laws.IndexOf(law));

    /// <summary>Renders all of it, in volts.</summary>
    /// <returns>Left and right.</returns>
    public (float[] Left, float[] Right) Run(IProgress<(string, double)>? progress, CancellationToken cancel)
    {
        int late = strips.Max(strip => strip.Late);
        long length = (long)Math.Ceiling((settings.Score.Seconds + settings.Release) * settings.Rate);
        float[] left = new float[length], right = new float[length];
        Coupling couplingLeft = new(settings.Rate), couplingRight = new(settings.Rate);
        double[] mixLeft = new double[SoundOscillator.Block], mixRight = new double[SoundOscillator.Block];
        Gate gate = new(settings, laws[0].Oscillator);
        long at = 0;
        while (at < length + late)
        {
            cancel.ThrowIfCancellationRequested();
            progress?.Report(("rendering", 0.9 + 0.1 * at / (length + late)));
            long due = control.Take(at);
            int count = (int)Math.Min(Math.Min(SoundOscillator.Block, length + late - at), due - at);
            Mix(count, mixLeft, mixRight);
            for (int n = 0; n < count; n++)
            {
                long place = at + n - late;
                (double l, double r) = (couplingLeft.Next(mixLeft[n]), couplingRight.Next(mixRight[n]));
                if (place < 0)
                    continue;
                double gain = gate.At(place);
                (left[place], right[place]) = ((float)(gain * l), (float)(gain * r));
            }
            at += count;
        }
        return (left, right);
    }

    private void Mix(int count, double[] mixLeft, double[] mixRight)
    {
        ReadOnlySpan<double> now = Voltages(count);
        MovePlayers(now[0], count);
        foreach (PlayedOscillator lead in leads)
            lead.Render(now, moved, [], block.AsSpan(0, count));
        Array.Clear(mixLeft, 0, count);
        Array.Clear(mixRight, 0, count);
        for (int i = 0; i < strips.Length; i++)
        {
            strips[i].Render(now, moved, sync.Pulls(i, mark => leads[mark].Turns), block.AsSpan(0, count));
            (double l, double r) = settings.Strips[i].Sides;
            for (int n = 0; n < count; n++)
            {
                mixLeft[n] += l * block[n];
                mixRight[n] += r * block[n];
            }
        }
    }

    private ReadOnlySpan<double> Voltages(int count)
    {
        volts[0] = double.IsNaN(control.Volts) ? 0 : control.Volts;
        if (double.IsNaN(control.Volts) || !control.Glides)
            return volts.AsSpan(0, 1);
        for (int i = 0; i <= 2 * count; i++)
        {
            volts[i] = control.Volts;
            if (i < 2 * count)
                control.Glide();
        }
        return volts.AsSpan(0, 2 * count + 1);
    }

    // A rate that is a multiple of the pitch follows the first oscillator's, as it would stand without any move.
    private void MovePlayers(double now, int count)
    {
        for (int m = 0; m < settings.Moves.Length; m++)
        {
            Modulation move = settings.Moves[m];
            double step = (move.Hertz ?? move.Ratio * laws[0].Pitch.Hertz(now)) / settings.Rate / 2;
            for (int i = 0; i <= 2 * count; i++)
                moved[m][i] = stands[m] + move.Volts * move.At(phases[m] + i * step);
            phases[m] += 2 * count * step;
            phases[m] -= Math.Floor(phases[m]);
        }
    }

    /// <summary>The gate's gain, sample after sample.</summary>
    private sealed class Gate(SoundSettings settings, Pitch.Oscillator first)
    {
        private readonly Control control = new(settings, first);
        private long next;

        public double At(long sample)
        {
            if (sample >= next)
                next = control.Take(sample);
            return control.Gain();
        }
    }
}
