using Consort.Engine.Bench.Readings;
using Consort.Engine.Bench.Recordings;
using Consort.Engine.Bench.Tones;
using Consort.Engine.Sound.Spectra;

namespace Consort.Engine.Bench.Sync;

/// <summary>Reads how far a follower holds to its lead out of two recordings of one sweep: sync on, and sync off.</summary>
/// <param name="clock">The recorder's: it turns no interval, only what is told of the lead.</param>
internal sealed class SweepReader(RecorderClock clock)
{
    private const double Steady = 3; // cents: a free recording within that is one note
    // Where an edge lies, from a phase equation after Adler swept at ten speeds, in units of the slip beside it: losing lags
    // behind the edge, being caught happens to either side of it. Where the hold ends abruptly nothing lingers: then the lag is
    // the time in which the free one runs through a slip.
    private const double LostLag = 1.2, LostWithin = 0.25, CaughtLag = 0.43, CaughtWithin = 0.5;
    private const double FreeWithin = 0.3;

    /// <summary>Reads; null with the reason when the recordings do not serve.</summary>
    /// <param name="follower">It, with sync on.</param>
    /// <param name="lead">What leads it, recorded with it.</param>
    /// <param name="free">The follower with sync off: one steady note, or the same sweep.</param>
    public (SyncReading? Reading, string? Why) Read(Recording follower, Recording lead, Recording free)
    {
        if (PitchTrack.Of(lead.Samples, lead.Rate) is not { } track)
            return (null, "the lead's channel holds no pitch that can be followed");
        if (OwnPitch.Of(free, Steady) is not { } own)
            return (null, "the recording without sync holds no pitch that can be followed");
        double late = own.Onset is { } onset && OwnPitch.FirstSound(follower) is { } start ? start / follower.Rate - onset : 0;
        SyncMoment[] moments = SyncMotion.Of(follower.Samples, follower.Rate, track, at => own.Hertz(at / follower.Rate - late));
        if (moments.Length < 10)
            return (null, "the two sound together too shortly");
        HoldFinder finder = new(moments);
        SyncHold Hold(MomentSpan span) =>
            new(
                moments[span.From].Sample / follower.Rate,
                moments[span.To].Sample / follower.Rate,
                clock.Ratio * (track.Turns(moments[span.To].Sample) - track.Turns(moments[span.From].Sample)) * lead.Rate / (moments[span.To].Sample - moments[span.From].Sample),
                Edge(moments, finder, span.From, isLost: false, own),
                Edge(moments, finder, span.To, isLost: true, own)
            );
        return (new(follower.File, moments.Min(one => one.OwnCents), moments.Max(one => one.OwnCents), Least(moments, follower.Rate), [.. finder.Find().Select(Hold)]), null);
    }

    // Both lags count from the hold's outermost moment towards its middle.
    private static SyncEdge Edge(SyncMoment[] moments, HoldFinder finder, int at, bool isLost, OwnPitch own)
    {
        int outwards = isLost ? 1 : -1;
        bool isReached = at > 0 && at < moments.Length - 1;
        double cents = moments[at].OwnCents;
        double slip = moments[finder.Slipped(at, outwards)].OwnCents - cents, free = cents - moments[finder.FreeSlipped(at, -outwards)].OwnCents;
        double slope = SlopeAt(moments, at);
        (double lag, double freeLag) = isLost ? (LostLag, 1) : (CaughtLag, 0.5);
        double inwards = Math.Max(Math.Abs(lag * slip), Math.Abs(freeLag * free)) * Math.Sign(slip);
        double within = Math.Max(Math.Abs((isLost ? LostWithin : CaughtWithin) * slip), Math.Abs(FreeWithin * free));
        double uncertainty = HarmonicReading.Combine([within, slope * SyncMotion.Blur(moments), own.UncertaintyCents, slope * own.LineUp]);
        return new(isReached ? cents - inwards : cents, uncertainty, isReached);
    }

    // Cents a sample.
    private static double SlopeAt(SyncMoment[] moments, int at)
    {
        int low = Math.Max(0, at - 4), high = Math.Min(moments.Length - 1, at + 4);
        return Math.Abs(moments[high].OwnCents - moments[low].OwnCents) / (moments[high].Sample - moments[low].Sample);
    }

    // A passing through unison runs no further than a hold's proof; at this speed that is so many cents.
    private static double Least(SyncMoment[] moments, double rate)
    {
        double seconds = (moments[^1].Sample - moments[0].Sample) / rate;
        double span = moments.Max(one => one.OwnCents) - moments.Min(one => one.OwnCents);
        double turns = Math.Abs(moments.Max(one => one.OwnTurns) - moments.Min(one => one.OwnTurns));
        return turns > 0 && seconds > 0 ? span * Math.Min(1, Math.Sqrt(HoldFinder.LeastTurns / turns)) : span;
    }
}
