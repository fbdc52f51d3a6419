namespace Consort.Engine.Bench.Sync;

/// <summary>A moment of a sweep.</summary>
/// <param name="Sample">When.</param>
/// <param name="OwnCents">The follower's own pitch against the lead's.</param>
/// <param name="OwnTurns">By how many turns it would have run ahead of the lead by then, were it free.</param>
/// <param name="Turns">By how many turns it did; NaN where its first harmonic is too small to tell.</param>
/// <param name="Repeats">False where its wave does not repeat with the lead even roughly.</param>
internal readonly record struct SyncMoment(int Sample, double OwnCents, double OwnTurns, double Turns, bool Repeats);

/// <summary>What a follower does against its lead, moment by moment.</summary>
internal static class SyncMotion
{
    private const int Periods = 5; // of the lead, in a window
    private const int Hops = 5; // in a window
    private const int Multiples = 16;
    private const double LeastShare = 0.5; // of the power in the lead's harmonics, where the wave repeats with the lead
    private const double LeastFirst = 0.04; // of it in the first one, where that one's phase means anything

    /// <summary>Follows it.</summary>
    /// <param name="follower">As it was heard.</param>
    /// <param name="rate">Samples in a second.</param>
    /// <param name="lead">What leads it.</param>
    /// <param name="own">Its own frequency at a sample, Hz.</param>
    public static SyncMoment[] Of(double[] follower, double rate, PitchTrack lead, Func<int, double> own)
    {
        double mean = lead.Turns(lead.End - 1) * rate / (lead.End - 1 - lead.First);
        int window = (int)(Periods * rate / mean), hop = Math.Max(1, window / Hops);
        int multiples = Math.Clamp((int)(0.45 * rate / mean), 1, Multiples);
        List<SyncMoment> moments = [];
        double turns = 0, ahead = 0;
        for (int at = lead.First + window / 2; at < Math.Min(follower.Length, lead.End) - window / 2; at += hop)
        {
            PhaseWindow seen = PhaseWindow.At(follower, at, window, multiples, i => lead.Turns(i));
            bool isTold = seen.ShareOf(1) > LeastFirst;
            if (isTold)
                turns += Math.IEEERemainder(seen.TurnOf(1) - turns, 1);
            double leads = lead.Hertz(at), free = own(at);
            ahead += moments.Count == 0 ? 0 : hop * (free - leads) / rate;
            moments.Add(new(at, 1200 * Math.Log2(free / leads), ahead, isTold ? turns : double.NaN, seen.Share > LeastShare));
        }
        return [.. moments];
    }

    /// <summary>How far a moment's place is uncertain by the length of its window, samples: a third of it.</summary>
    public static double Blur(SyncMoment[] moments) => Hops * (moments[1].Sample - moments[0].Sample) / 3.0;
}
