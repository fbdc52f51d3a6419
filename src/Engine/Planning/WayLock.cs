using Consort.Engine.Circuit;
using Consort.Engine.Pitch;
using Consort.Engine.Pitch.Locking;

namespace Consort.Engine.Planning;

/// <summary>The widest range of detune over which two oscillators of a voice wired one way lock, at mid keyboard.</summary>
/// <param name="Widest">The pair; null when no two are to stand within a semitone of a simple ratio, or when it could not be computed.</param>
/// <param name="Why">Why there is none; empty when there is one.</param>
public sealed record WayLock(PairLock? Widest, string Why)
{
    /// <summary>Reads it in several ways.</summary>
    /// <param name="ways">Prepared, and trimmed in place.</param>
    /// <param name="threads">How many may work; the result does not depend on it.</param>
    /// <param name="done">Told after each way.</param>
    /// <param name="cancel">Stops it.</param>
    internal static WayLock[] Of(IReadOnlyList<TrimmedWay> ways, int threads, Action<int> done, CancellationToken cancel)
    {
        LockReader[] readers = [.. ways.Select(way => new LockReader(way.Played, 1))];
        double volts = ways[0].Played.MiddleVolts; // the same players in all ways
        PortSides sides = PortSides.Read(readers, volts, threads, cancel);
        WayLock[] read = new WayLock[ways.Count];
        ParallelWork.Each(ways.Count, threads, w =>
        {
            read[w] = Of(readers[w], volts, sides, cancel);
            done(w);
        }, cancel);
        return read;
    }

    private static WayLock Of(LockReader reader, double volts, PortSides sides, CancellationToken cancel)
    {
        (PairLock? pair, SolveFailure? failure) = reader.Widest(volts, sides, cancel);
        if (failure is not null)
            return new(null, $"{failure}");
        return new(pair, pair is null ? "no two oscillators are to stand within a semitone of each other or of another simple ratio" : "");
    }
}
