using System.Collections.Immutable;
using Consort.Engine.Sound.Laws;
using Consort.Engine.Sound.Noise;
using Consort.Engine.Sound.Oscillators;

namespace Consort.Engine.Sound.Playing;

/// <summary>
/// What an oscillator's pitch does by itself while it plays: white noise in every sample, 1/f noise and temperature as a track
/// of straight lines between moments that do not hang on how blocks are cut. Outputs of one oscillator share it.
/// </summary>
internal sealed class Unrest
{
    private const int Grid = 64; // samples between points of the slow track
    private const ulong FlickerStreams = 1000;
    private const ulong OutputStreams = 2000;

    // Simpson's rule takes four sixths of what stands in a sample's middle: 1.5 there is 1 over the sample.
    private const double AtMiddle = 1.5;

    private readonly SoundLaw law;
    private readonly UnrestCourse course;
    private readonly double[] noise = new double[SoundOscillator.Block];
    private readonly double[] mix;
    private readonly NoiseStream[] white;
    private readonly Flicker[] slow;
    private readonly NoiseStream? output;
    private readonly double outputRoot; // V in a sample
    private long at;
    private double from;
    private double to;

    private Unrest(SoundLaw law, UnrestCourse course, string jack, int strip, double volts)
    {
        (this.law, this.course) = (law, course);
        ulong seed = course.Seed;
        mix = law.Noise is { } told ? [.. told.Mix] : [];
        white = [.. mix.Select((_, i) => course.White(i))];
        slow = [.. mix.Select((_, i) => new Flicker(new(seed, FlickerStreams + (ulong)i), (double)course.Rate / Grid))];
        if (law.Noise?.Outputs.FirstOrDefault(one => one.Output == jack) is { } floor)
            (output, outputRoot) = (new(seed, OutputStreams + (ulong)strip), floor.Density * Math.Sqrt(course.Rate / 2.0));
        to = SlowRatio(0, volts);
    }

    /// <summary>Null when the oscillator holds still.</summary>
    public static Unrest? Of(SoundLaw law, UnrestCourse course, string jack, int strip, double volts) =>
        law.Noise is null && law.Drift is null ? null : new(law, course, jack, strip, volts);

    /// <summary>Moves a block's frequencies: one for each sample's start and middle, and the last end.</summary>
    public void Move(double volts, Span<double> cycles)
    {
        double spread = law.Noise is { } told ? AtMiddle * course.Times * told.Root(volts) * Math.Sqrt(course.Rate) : 0;
        double ratio = to;
        Span<double> quick = noise.AsSpan(0, cycles.Length / 2);
        Mix(spread, quick);
        for (int n = 0; n < quick.Length; n++, at++)
        {
            int place = (int)(at & (Grid - 1));
            if (place == 0)
                (from, to) = (to, SlowRatio((double)(at + Grid) / course.Rate, volts));
            double step = (to - from) / (2 * Grid);
            ratio = from + 2 * place * step;
            cycles[2 * n] *= ratio;
            cycles[2 * n + 1] *= ratio + step + quick[n];
            ratio += 2 * step;
        }
        cycles[^1] *= ratio;
    }

    private void Mix(double spread, Span<double> samples)
    {
        samples.Clear();
        if (spread > 0)
            for (int i = 0; i < mix.Length; i++)
                if (mix[i] != 0)
                    white[i].AddTo(samples, at, spread * mix[i]);
    }

    /// <summary>Adds the noise floor of the output to a block whose frequencies were moved.</summary>
    public void AddFloor(Span<double> samples)
    {
        double root = course.Times * outputRoot;
        if (root != 0)
            output?.AddTo(samples, at - samples.Length, root);
    }

    private double SlowRatio(double seconds, double volts)
    {
        double ratio = 1;
        if (law.Drift is { } drift && course.KelvinAt is { } kelvinAt)
            ratio = Math.Pow(2, drift.Cents(kelvinAt(seconds), volts) / 1200);
        double flicker = 0;
        for (int i = 0; i < slow.Length; i++)
            flicker += mix[i] * slow[i].Next();
        return law.Noise is { } told ? ratio * (1 + course.Times * told.FlickerRoot(volts) * flicker) : ratio;
    }
}
