using Consort.Engine.Bench.Recordings;
using Consort.Engine.Bench.Tones;

namespace Consort.Engine.Bench.Sync;

/// <summary>The pitch that a follower has by itself, from a recording without sync.</summary>
/// <param name="Hertz">At a time from the recording's beginning, s.</param>
/// <param name="UncertaintyCents">Standard uncertainty of it.</param>
/// <param name="Onset">Where it begins to sound, s, when it slides and silence comes first; null: nothing to line up by.</param>
/// <param name="LineUp">How well two recordings are lined up, samples.</param>
internal sealed record OwnPitch(Func<double, double> Hertz, double UncertaintyCents, double? Onset, double LineUp)
{
    private const double SlideCents = 0.05; // a track's frequency over a tenth of a second, by tests with known slides

    /// <summary>Takes it; null when it holds no pitch.</summary>
    /// <param name="steady">What stays within so many cents is one note.</param>
    public static OwnPitch? Of(Recording free, double steady)
    {
        if (PitchTrack.Of(free.Samples, free.Rate) is not { } track)
            return null;
        double[] along = [.. Enumerable.Range(1, 40).Select(i => track.Hertz(track.First + (track.End - track.First) * i / 41.0))];
        if (1200 * Math.Log2(along.Max() / along.Min()) < steady)
        {
            (ToneReading? tone, _) = ToneEstimator.One(free.Samples.AsSpan(track.First, track.End - track.First), free.Rate, step: free.Step);
            double hertz = tone?.Frequency.Value ?? along.Average();
            double drift = 1200 * Math.Log2(along.Max() / along.Min()) / Math.Sqrt(12);
            return new(_ => hertz, Math.Max(drift, tone?.UncertaintyCents ?? 0), null, 0);
        }
        double lineUp = FirstSound(free) is null ? 0 : 0.01 * free.Rate;
        return new(seconds => track.Hertz(Math.Clamp(seconds * free.Rate, track.First, track.End - 1)), SlideCents, FirstSound(free) / free.Rate, lineUp);
    }

    /// <summary>The sample at which it begins to sound; null when it does from the beginning.</summary>
    public static int? FirstSound(Recording recording)
    {
        const double Quiet = 0.02; // of the largest sample
        double limit = Quiet * recording.Samples.Select(Math.Abs).DefaultIfEmpty(0).Max();
        int first = Array.FindIndex(recording.Samples, sample => Math.Abs(sample) > limit);
        return first > 0.1 * recording.Rate ? first : null;
    }
}
