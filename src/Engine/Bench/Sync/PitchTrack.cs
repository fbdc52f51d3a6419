using Consort.Engine.Bench.Recordings;
using Consort.Engine.Quantities;

namespace Consort.Engine.Bench.Sync;

/// <summary>Phase and frequency of a sound that slides, moment by moment: a rough pitch from spectra, then what its first
/// harmonic turns beside that.</summary>
internal sealed class PitchTrack
{
    private const int Neighbours = 2; // to both sides: a stray guess is not followed
    private const double HalfTime = 0.06; // s; a frequency is taken over twice that

    private readonly double rate;
    private readonly double[] rough; // turns since First, by sample
    private readonly int hop;
    private readonly double[] beside; // turns more, by hop

    private PitchTrack(double rate, int first, double[] rough, int hop, double[] beside) =>
        (this.rate, First, this.rough, this.hop, this.beside) = (rate, first, rough, hop, beside);

    /// <summary>First sample of which it knows.</summary>
    public int First { get; }

    /// <summary>The sample after the last one.</summary>
    public int End => First + rough.Length;

    /// <summary>Turns since its first sample; any place within.</summary>
    public double Turns(double sample)
    {
        double at = Math.Clamp(sample - First, 0, rough.Length - 1);
        return Between(rough, at) + Between(beside, at / hop);
    }

    /// <summary>Its frequency around a place, Hz.</summary>
    public double Hertz(double sample)
    {
        double low = Math.Max(First, sample - HalfTime * rate), high = Math.Min(End - 1, sample + HalfTime * rate);
        return (Turns(high) - Turns(low)) * rate / (high - low);
    }

    /// <summary>Follows it; null when too little of it is one note.</summary>
    public static PitchTrack? Of(double[] samples, double rate)
    {
        const double LeastShare = 0.6; // of the frames between the first and the last that has a pitch
        PitchContour contour = PitchContour.Of(samples, rate);
        int[] frames = [.. Enumerable.Range(0, contour.Hertz.Length).Where(frame => !double.IsNaN(contour.Hertz[frame]))];
        if (frames.Length < 4 || frames.Length < LeastShare * (frames[^1] - frames[0] + 1))
            return null;
        double[] hertz = [.. frames.Select((_, i) => Median.Of(frames[Math.Max(0, i - Neighbours)..Math.Min(frames.Length, i + Neighbours + 1)].Select(frame => contour.Hertz[frame])))];
        double[] rough = Rough([.. frames.Select(contour.Middle)], hertz, rate);
        int first = contour.Middle(frames[0]), window = (int)(6 * rate / hertz.Min()), hop = Math.Max(1, window / 4);
        return new(rate, first, rough, hop, Beside(samples, first, rough, window, hop));
    }

    // The sum of a frequency that runs straight from one frame's middle to the next one's.
    private static double[] Rough(int[] middles, double[] hertz, double rate)
    {
        double[] turns = new double[middles[^1] - middles[0] + 1];
        for (int i = 0; i + 1 < middles.Length; i++)
            for (int at = middles[i]; at < middles[i + 1]; at++)
            {
                double share = (at + 0.5 - middles[i]) / (middles[i + 1] - middles[i]);
                turns[at + 1 - middles[0]] = turns[at - middles[0]] + (hertz[i] + share * (hertz[i + 1] - hertz[i])) / rate;
            }
        return turns;
    }

    private static double[] Beside(double[] samples, int first, double[] rough, int window, int hop)
    {
        double[] beside = new double[rough.Length / hop + 2];
        for (int i = 0; i < beside.Length; i++)
        {
            double turn = PhaseWindow.At(samples, first + i * hop, window, 1, at => rough[Math.Clamp(at - first, 0, rough.Length - 1)]).TurnOf(1);
            beside[i] = i == 0 ? turn : beside[i - 1] + Math.IEEERemainder(turn - beside[i - 1], 1);
        }
        return beside;
    }

    private static double Between(double[] values, double at)
    {
        int below = Math.Clamp((int)at, 0, values.Length - 2);
        return values[below] + (at - below) * (values[below + 1] - values[below]);
    }
}
