using System.Collections.Immutable;

namespace Consort.Engine.Bench.Sync;

/// <summary>Where a hold begins or ends.</summary>
/// <param name="Cents">The follower's own pitch against the lead's there.</param>
/// <param name="Uncertainty">Standard uncertainty of it, cents.</param>
/// <param name="IsReached">False when the recording began or ended while it still held: the hold goes on from there.</param>
public readonly record struct SyncEdge(double Cents, double Uncertainty, bool IsReached);

/// <summary>One stretch of a sweep in which the follower takes the lead's frequency.</summary>
/// <param name="Start">Where it begins in the recording, s.</param>
/// <param name="End">Where it ends, s.</param>
/// <param name="LeadHertz">The lead's mean frequency in it, the recorder's clock set right.</param>
/// <param name="Entered">Where the follower is caught.</param>
/// <param name="Left">Where it is lost.</param>
public sealed record SyncHold(double Start, double End, double LeadHertz, SyncEdge Entered, SyncEdge Left)
{
    /// <summary>The flat end of the range.</summary>
    public SyncEdge Flat => Entered.Cents < Left.Cents ? Entered : Left;

    /// <summary>The sharp end of the range.</summary>
    public SyncEdge Sharp => Entered.Cents < Left.Cents ? Left : Entered;
}

/// <summary>How far a follower holds to its lead, from a recording in which one of them is swept past the other.</summary>
/// <param name="File">The recording.</param>
/// <param name="FromCents">Lowest of the follower's own pitch against the lead's that the sweep came to.</param>
/// <param name="ToCents">Highest.</param>
/// <param name="LeastCents">A hold narrower than that would not be told from a passing by.</param>
/// <param name="Holds">In the order of the recording.</param>
public sealed record SyncReading(string File, double FromCents, double ToCents, double LeastCents, ImmutableArray<SyncHold> Holds);
