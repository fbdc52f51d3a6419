using System.Collections.Immutable;
using Consort.Engine.Pitch.Builds;
using Consort.Engine.Pitch.Builds.Spread;

namespace Consort.Engine.Pitch.Live;

/// <summary>How an answer came about.</summary>
public enum AnswerKind
{
    /// <summary>From the laws of the voice as it was last read, with the changed parts moved in them.</summary>
    Estimate,

    /// <summary>From full transients of the design as it is now; builds, chain and checks are still to come.</summary>
    Read,

    /// <summary>The whole proof.</summary>
    Proved,
}

/// <summary>What is known of an edited voice so far. Later answers take the place of earlier ones.</summary>
/// <param name="Kind">How it came about.</param>
/// <param name="Sureness">How good the figures are, in a sentence.</param>
/// <param name="Figures">The worst of the design against each limit in cents: tracking, drift, followers.</param>
/// <param name="Tracking">Every oscillator at every temperature, the reference temperature first.</param>
/// <param name="Trims">Where trimmers come to stand in the design; empty where an estimate has none.</param>
/// <param name="Spread">What trimmed builds do; null while none were made.</param>
/// <param name="Proof">Everything; null for an estimate.</param>
/// <param name="Milliseconds">From the question to this answer, ms.</param>
public sealed record LiveAnswer(
    AnswerKind Kind,
    string Sureness,
    ImmutableArray<LiveFigure> Figures,
    ImmutableArray<TrackingCurve> Tracking,
    ImmutableArray<TrimResult> Trims,
    SpreadResult? Spread,
    Proof? Proof,
    double Milliseconds
)
{
    /// <summary>Share of builds that keep every limit, with its interval; null while none were made.</summary>
    public YieldInterval? Yield => Spread?.Yield;
}

/// <summary>One figure of the design.</summary>
/// <param name="Key">The claim that it belongs to: <c>tracking</c>, <c>drift</c>, <c>followers</c>.</param>
/// <param name="Cents">What was found; infinite when something does not oscillate.</param>
/// <param name="Limit">What is asked, cents.</param>
public sealed record LiveFigure(string Key, double Cents, double Limit)
{
    /// <summary>True within the limit.</summary>
    public bool Passed => Cents <= Limit;
}
