using System.Collections.Immutable;

namespace Consort.Engine.Fit;

/// <summary>How a claim stands.</summary>
public enum ClaimStanding
{
    /// <summary>Kept, by more than twice the standard uncertainty.</summary>
    Kept,

    /// <summary>Missed, by more than twice the standard uncertainty.</summary>
    Missed,

    /// <summary>Nearer to its limit than the readings can tell.</summary>
    Open,
}

/// <summary>One claim of the design, held against a unit.</summary>
/// <param name="Key">tracking, trimmed tracking, drift or spread.</param>
/// <param name="Title">In words.</param>
/// <param name="Figure">What the unit has.</param>
/// <param name="Deviation">Standard uncertainty of it.</param>
/// <param name="Limit">What is asked at most.</param>
/// <param name="Unit">Of all three: <c>cents</c>, or a plain share.</param>
/// <param name="Standing">The verdict.</param>
/// <param name="Percentile">Share of simulated builds, trimmed, that do better, 0 to 1; null where builds say nothing.</param>
public sealed record UnitClaim(
    string Key,
    string Title,
    double Figure,
    double Deviation,
    double Limit,
    string Unit,
    ClaimStanding Standing,
    double? Percentile
);

/// <summary>Where trimmed builds lie at a note.</summary>
/// <param name="Volts">Control voltage, V.</param>
/// <param name="Low">Nineteen of twenty builds lie above, cents.</param>
/// <param name="High">Nineteen of twenty lie below.</param>
public readonly record struct BuildBand(double Volts, double Low, double High);

/// <summary>Does a unit meet its design?</summary>
/// <param name="Claims">Claim by claim.</param>
/// <param name="Bands">Trimmed builds at every note, at the bench's temperature.</param>
/// <param name="Builds">How many are behind them.</param>
public sealed record UnitVerdict(ImmutableArray<UnitClaim> Claims, ImmutableArray<BuildBand> Bands, int Builds);
