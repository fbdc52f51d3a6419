using System.Collections.Immutable;
using Consort.Engine.Sound.Laws;
using Consort.Engine.Sound.Noise;

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
        mix = law.Noise is { } noise ? [.. noise.Mix] : [];
        white = [.. mix.Select((_, i) => new NoiseStream(seed, (ulong)i))];
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
        double spread = law.Noise is { } noise ? AtMiddle * course.Times * noise.Root(volts) * Math.Sqrt(course.Rate) : 0;
        double ratio = to;
        for (int n = 0; n < cycles.Length / 2; n++, at++)
        {
            int place = (int)(at % Grid);
            if (place == 0)
                (from, to) = (to, SlowRatio((double)(at + Grid) / course.Rate, volts));
            double step = (to - from) / (2 * Grid);
            ratio = from + 2 * place * step;
            cycles[2 * n] *= ratio;
            cycles[2 * n + 1] *= ratio + step + (spread > 0 ? spread * Mixed(white, at) : 0);
            ratio += 2 * step;
        }
        cycles[^1] *= ratio;
    }

    /// <summary>Adds the noise floor of the output to a block whose frequencies were moved.</summary>
    public void AddFloor(Span<double> samples)
    {
        double root = course.Times * outputRoot;
        if (output is null || root == 0)
            return;
        for (int n = 0; n < samples.Length; n++)
            samples[n] += root * output.At(at - samples.Length + n);
    }

    private double Mixed(NoiseStream[] streams, long place)
    {
        double sum = 0;
        for (int i = 0; i < mix.Length; i++)
            if (mix[i] != 0)
                sum += mix[i] * streams[i].At(place);
        return sum;
    }

    private double SlowRatio(double seconds, double volts)
    {
        double ratio = 1;
        if (law.Drift is { } drift && course.KelvinAt is { } kelvinAt)
            ratio = Math.Pow(2, drift.Cents(kelvinAt(seconds), volts) / 1200);
        double flicker = 0;
        for (int i = 0; i < slow.Length; i++)
            flicker += mix[i] * slow[i].Next();
        return law.Noise is { } noise ? ratio * (1 + course.Times * noise.FlickerRoot(volts) * flicker) : ratio;
    }
}
