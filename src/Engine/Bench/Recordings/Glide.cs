using System.Collections.Immutable;
using Consort.Engine.Bench.Tones;

namespace Consort.Engine.Bench.Recordings;

/// <summary>A slide from one note to the next under a voltage that ramps evenly from one to the other.</summary>
/// <param name="Start">Where it begins, in samples: where its line meets the note before.</param>
/// <param name="End">Where it ends.</param>
/// <param name="EdgeUncertainty">Standard uncertainty of both places, samples.</param>
internal sealed record Glide(double Start, double End, double EdgeUncertainty)
{
    private const double WindowSeconds = 0.085;
    private const double LeastSeconds = 0.5;
    private const double MostLeftOver = 0.3; // of a window's energy: harmonics past the twelfth are left over
    private const double Smear = 0.04; // of its frequency: how far a note may slide within a window

    private readonly record struct Moment(double At, double Octave);

    /// <summary>Looks for a slide between two notes; null when there is none.</summary>
    /// <param name="before">Frequency of the note before, rad per sample.</param>
    /// <param name="after">Of the note after.</param>
    public static Glide? Between(double[] samples, double rate, NoteSpan from, NoteSpan to, double before, double after)
    {
        if (to.Start - from.End < LeastSeconds * rate)
            return null;
        int window = Window(rate, Math.Min(before, after)), hop = window / 2;
        List<Moment> moments = [];
        for (int at = from.End; at <= to.Start; at += hop)
            if (At(samples, at, window) is { } fit)
                moments.Add(new(at, Math.Log2(fit.Omega / before) / Math.Log2(after / before)));
        double expected = (to.Start - from.End) / (double)hop;
        if (moments.Count < 0.6 * expected || Edge(moments, 0) is not { } start || Edge(moments, 1) is not { } end)
            return null;
        return end.At > start.At ? new(start.At, end.At, Math.Max(start.Uncertainty, end.Uncertainty)) : null;
    }

    /// <summary>Reads along the slide, at shares of its way.</summary>
    public ImmutableArray<(double Share, GlideFit Fit)> Read(double[] samples, double rate, double lowest, IEnumerable<double> shares)
    {
        int window = Window(rate, lowest);
        return
        [
            .. shares
                .Select(share => (Share: share, Middle: Start + share * (End - Start)))
                .Where(at => at.Middle - Start > 0.6 * window && End - at.Middle > 0.6 * window)
                .Select(at => (at.Share, Fit: At(samples, at.Middle, window)))
                .Where(read => read.Fit is not null)
                .Select(read => (read.Share, read.Fit!)),
        ];
    }

    private static int Window(double rate, double lowest) => (int)Math.Max(WindowSeconds * rate, 3 * 2 * Math.PI / lowest);

    // The window's middle need not fall on a sample: the frequency is carried the rest of the way by its own slide.
    private static GlideFit? At(double[] samples, double middle, int window)
    {
        int start = (int)Math.Round(middle - 0.5 * (window - 1));
        if (start < 0 || start + window > samples.Length)
            return null;
        double[] piece = samples[start..(start + window)];
        if (ToneSearch.In(new(piece), Smear) is not { Share: > 0.5 } guess)
            return null;
        double omega = 2 * Math.PI * guess.Bin / window, off = middle - (start + 0.5 * (window - 1));
        return GlideFit.To(piece, omega, 0) is { LeftOver: < MostLeftOver } fit ? fit with { Omega = fit.Omega * Math.Exp(fit.Beta / fit.Omega * off) } : null;
    }

    // Where the slide, followed back from a tenth to a third of its way, meets the note: no law of tracking is used.
    private static (double At, double Uncertainty)? Edge(List<Moment> moments, double octave)
    {
        const double Near = 0.08, Far = 0.3;
        Moment[] along = [.. moments.Where(moment => Math.Abs(moment.Octave - octave) is > Near and < Far)];
        if (along.Length < 4)
            return null;
        double meanAt = along.Average(moment => moment.At), meanOctave = along.Average(moment => moment.Octave);
        double own = along.Sum(moment => (moment.At - meanAt) * (moment.At - meanAt));
        double slope = along.Sum(moment => (moment.At - meanAt) * (moment.Octave - meanOctave)) / own;
        double squares = along.Sum(moment => Math.Pow(moment.Octave - meanOctave - slope * (moment.At - meanAt), 2));
        double at = meanAt + (octave - meanOctave) / slope;
        double spread = Math.Sqrt(squares / (along.Length - 2) * (1.0 / along.Length + (at - meanAt) * (at - meanAt) / own));
        return slope > 0 ? (at, spread / slope) : null;
    }
}
