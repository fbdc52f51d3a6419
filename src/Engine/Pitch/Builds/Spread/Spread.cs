using System.Collections.Immutable;
using Consort.Engine.Design;

namespace Consort.Engine.Pitch.Builds.Spread;

/// <summary>What is asked of a spread.</summary>
/// <param name="Stock">The shelf that parts come from: it may say how they lie between their limits.</param>
/// <param name="Builds">How many builds.</param>
/// <param name="Seed">Of the points that they are drawn from.</param>
public sealed record SpreadRequest(Stock Stock, int Builds = 10_000, ulong Seed = 1);

/// <summary>What thousands of trimmed builds of a voice do. Cents are 1200 to the octave.</summary>
/// <param name="Builds">How many were made.</param>
/// <param name="Points">How they were drawn, seed included.</param>
/// <param name="Seed">The seed.</param>
/// <param name="Yield">The share that keeps every limit.</param>
/// <param name="Asked">The share that is asked, 0 to 1.</param>
/// <param name="Figures">One line for each limit.</param>
/// <param name="Notes">Pitch error over the keyboard, by oscillator and temperature.</param>
/// <param name="Trimmers">Where trimmers come to stand.</param>
/// <param name="Followers">How far followers wander from their lead, by follower and note.</param>
/// <param name="Shares">What each part brings to the spread that trimming leaves, the largest first.</param>
/// <param name="Worst">The worst builds, the very worst first.</param>
public sealed record SpreadResult(
    long Builds,
    string Points,
    ulong Seed,
    YieldInterval Yield,
    double Asked,
    ImmutableArray<SpreadFigure> Figures,
    ImmutableArray<SpreadBand> Notes,
    ImmutableArray<TrimmerUse> Trimmers,
    ImmutableArray<FollowerWander> Followers,
    ImmutableArray<PartShare> Shares,
    ImmutableArray<WorstBuild> Worst
)
{
    /// <summary>What a gradient of temperature does to them while they warm up; null when nothing in them makes up for
    /// temperature, or no gradient is asked.</summary>
    public LagFigure? Lag { get; init; }
}

/// <summary>How far notes of trimmed builds move while the resistors that make up for temperature are behind all other parts.</summary>
/// <param name="Kelvin">By how much they are colder, K.</param>
/// <param name="Median">Half of all builds move less, at the worst note of the octaves that are asked, cents.</param>
/// <param name="Most">Nineteen of twenty move less, cents.</param>
/// <param name="Worst">The worst build, cents.</param>
public sealed record LagFigure(double Kelvin, double Median, double Most, double Worst);

/// <summary>What builds do against one limit.</summary>
/// <param name="Key">The claim that it belongs to: <c>tracking</c>, <c>drift</c>, <c>followers</c>.</param>
/// <param name="Title">In words.</param>
/// <param name="Limit">Cents.</param>
/// <param name="Kept">The share of builds within it.</param>
/// <param name="Median">Half of all builds are better, cents.</param>
/// <param name="Most">Nineteen of twenty are better, cents.</param>
/// <param name="Worst">The worst build, cents; infinite when one did not oscillate.</param>
public sealed record SpreadFigure(string Key, string Title, double Limit, YieldInterval Kept, double Median, double Most, double Worst)
{
    /// <summary>How many builds lie in each of as many equal steps from 0 to <see cref="BinsTo"/>; the last holds all above too. Counted
    /// from bins 1 % wide.</summary>
    public ImmutableArray<long> Bins { get; init; } = [];

    /// <summary>Upper end of the last step, cents.</summary>
    public double BinsTo { get; init; }

    /// <summary>Equal when every figure and every count is.</summary>
    public bool Equals(SpreadFigure? other) =>
        other is not null
        && (Key, Title, Limit, Kept, Median, Most) == (other.Key, other.Title, other.Limit, other.Kept, other.Median, other.Most)
        && Worst.Equals(other.Worst)
        && BinsTo == other.BinsTo
        && Bins.AsSpan().SequenceEqual(other.Bins.AsSpan());

    /// <inheritdoc/>
    public override int GetHashCode() => HashCode.Combine(Key, Limit, Kept, Median, Most, Worst, BinsTo);
}

/// <summary>Pitch error of one oscillator's builds at one temperature.</summary>
/// <param name="Oscillator">The member's name.</param>
/// <param name="Kelvin">Temperature, K.</param>
/// <param name="ControlVolts">Notes, V.</param>
/// <param name="Mean">Mean error at each, cents.</param>
/// <param name="Deviation">Standard deviation at each, cents.</param>
public sealed record SpreadBand(
    string Oscillator,
    double Kelvin,
    ImmutableArray<double> ControlVolts,
    ImmutableArray<double> Mean,
    ImmutableArray<double> Deviation
);

/// <summary>Where one trimmer comes to stand in builds.</summary>
/// <param name="Oscillator">The member's name.</param>
/// <param name="Trimmer">Designator, without the member's name.</param>
/// <param name="Purpose">What it is for.</param>
/// <param name="Design">Where it stands in the design, 0 to 1.</param>
/// <param name="Low">One build of twenty is further counter-clockwise.</param>
/// <param name="Median">Half of them are.</param>
/// <param name="High">One of twenty is further clockwise.</param>
/// <param name="RunsOut">Share of builds in which it comes to its end.</param>
/// <param name="MissingCents">What is left to trim in those, the median, cents; 0 when there are none.</param>
/// <param name="CentsPerDegree">What one degree of turn does; for tracking, over the whole interval that is set.</param>
/// <param name="Step">Smallest step that a hand can set, cents.</param>
public sealed record TrimmerUse(
    string Oscillator,
    string Trimmer,
    TrimPurpose Purpose,
    double Design,
    double Low,
    double Median,
    double High,
    YieldInterval RunsOut,
    double MissingCents,
    double CentsPerDegree,
    double Step
);

/// <summary>How far a follower wanders from its lead at one note, over all temperatures.</summary>
/// <param name="Follower">The member's name.</param>
/// <param name="ControlVolts">Note, V.</param>
/// <param name="Hertz">The follower's ideal frequency there, Hz.</param>
/// <param name="MedianCents">Half of all builds wander less, cents.</param>
/// <param name="MostCents">Nineteen of twenty wander less, cents.</param>
/// <param name="MostBeats">What that is in beats a second.</param>
public sealed record FollowerWander(string Follower, double ControlVolts, double Hertz, double MedianCents, double MostCents, double MostBeats);

/// <summary>What one part brings to the variance that trimming leaves.</summary>
/// <param name="Part">Designator with the member's name; for an array or a die, the first of its parts.</param>
/// <param name="Parameter">What varies.</param>
/// <param name="Tracking">Its share of the variance of the tracking error, 0 to 1.</param>
/// <param name="Drift">Its share of the variance of the move with temperature.</param>
/// <param name="Followers">Its share of the variance of followers against their lead.</param>
/// <param name="Error">Standard error of the largest, from the number of builds.</param>
public sealed record PartShare(string Part, string Parameter, double Tracking, double Drift, double Followers, double Error)
{
    /// <summary>The largest of its shares.</summary>
    public double Largest => Math.Max(Tracking, Math.Max(Drift, Followers));

    /// <summary>Its share in what one claim asks.</summary>
    /// <param name="claim">The claim's key.</param>
    public double Of(string claim) =>
        claim switch
        {
            "tracking" => Tracking,
            "drift" => Drift,
            _ => Followers,
        };
}

/// <summary>A build that stands out.</summary>
/// <param name="Number">Its number under the seed: makes it again.</param>
/// <param name="TrackingCents">Its worst tracking error.</param>
/// <param name="DriftCents">Its largest move with temperature.</param>
/// <param name="FollowerCents">Its worst follower against the lead.</param>
/// <param name="Where">The oscillator and note that are worst.</param>
public sealed record WorstBuild(long Number, double TrackingCents, double DriftCents, double FollowerCents, string Where);
