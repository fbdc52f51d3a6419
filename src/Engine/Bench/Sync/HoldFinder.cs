namespace Consort.Engine.Bench.Sync;

/// <summary>Moments from one to another, both within.</summary>
internal readonly record struct MomentSpan(int From, int To);

/// <summary>
/// Finds the stretches of a sweep in which a follower holds: it stays within three quarters of a turn of its lead while,
/// free, it would have run away by some turns.
/// </summary>
internal sealed class HoldFinder(SyncMoment[] moments)
{
    private const double Slip = 0.75; // turns; a hold by a sine moves by half a turn from end to end
    private const double Slowest = 20; // a slip takes no longer than so many turns of the free beat: a wave that changes its shape turns slower
    private const double Proof = 3; // turns that the free one would have run, at least
    private const double Lingering = 0.15; // of the widest hold's width: what is narrower is a slip that takes its time beside it
    private const double Told = 0.5; // of a stretch's moments whose phase can be told, at least

    /// <summary>A sweep that passes through unison stays within a slip while its own pitch would run so far, turns: what is
    /// held for <see cref="Proof"/> is no passing by.</summary>
    public static double LeastTurns => Proof;

    /// <summary>The stretches, in their order.</summary>
    public List<MomentSpan> Find()
    {
        List<MomentSpan> held = [];
        foreach (MomentSpan span in Widest().OrderByDescending(span => span.To - span.From))
            if (Run(span) >= Proof && IsTold(span) && held.TrueForAll(other => span.To < other.From || span.From > other.To) && (held.Count == 0 || Width(span) > Lingering * Width(held[0])))
                held.Add(span);
        return [.. held.OrderBy(span => span.From)];
    }

    /// <summary>The first moment beyond one by a full turn; the last there is when there is none.</summary>
    /// <param name="way">1 onwards, −1 backwards.</param>
    public int Slipped(int from, int way) => Past(from, way, at => Math.Abs(moments[at].Turns - moments[from].Turns) >= 1);

    /// <summary>The first moment by which the free one would have run through a slip or come to unison; the last there is when there is none.</summary>
    /// <param name="way">1 onwards, −1 backwards.</param>
    public int FreeSlipped(int from, int way) =>
        Past(from, way, at => Math.Abs(moments[at].OwnTurns - moments[from].OwnTurns) >= Slip || moments[at].OwnCents * moments[from].OwnCents < 0);

    private int Past(int from, int way, Func<int, bool> isPast)
    {
        int at = from;
        while (at + way >= 0 && at + way < moments.Length && !isPast(at))
            at += way;
        return at;
    }

    // Stretches without a slip that no longer one holds.
    private IEnumerable<MomentSpan> Widest()
    {
        int from = 0;
        for (int at = 0; at < moments.Length; at++)
        {
            int after = moments[at].Repeats ? Math.Max(from, AfterSlip(at, from)) : at + 1;
            if (after == from)
                continue;
            if (at > from)
                yield return new(from, at - 1);
            from = after;
        }
        if (from < moments.Length)
            yield return new(from, moments.Length - 1);
    }

    // The moment after the last one from which this one has slipped; the given one when there is none.
    private int AfterSlip(int at, int from)
    {
        for (int before = at - 1; before >= from && Math.Abs(moments[at].OwnTurns - moments[before].OwnTurns) < Slowest; before--)
            if (Math.Abs(moments[at].Turns - moments[before].Turns) >= Slip)
                return before + 1;
        return from;
    }

    private double Run(MomentSpan span)
    {
        double low = double.PositiveInfinity, high = double.NegativeInfinity;
        for (int i = span.From; i <= span.To; i++)
            (low, high) = (Math.Min(low, moments[i].OwnTurns), Math.Max(high, moments[i].OwnTurns));
        return high - low;
    }

    private double Width(MomentSpan span) => Math.Abs(moments[span.To].OwnCents - moments[span.From].OwnCents);

    private bool IsTold(MomentSpan span) =>
        Enumerable.Range(span.From, span.To - span.From + 1).Count(i => !double.IsNaN(moments[i].Turns)) > Told * (span.To - span.From + 1);
}
