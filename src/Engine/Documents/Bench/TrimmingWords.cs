using System.Globalization;
using Consort.Engine.Fit;

namespace Consort.Engine.Documents.Bench;

/// <summary>What to turn on a unit, in the words that terminal and workbench share.</summary>
public static class TrimmingWords
{
    /// <summary>Standard uncertainties in what is printed: 95 % (JCGM 100:2008, 6.3.3).</summary>
    public const double Coverage = 2;

    private const string OpenUnit =
        "the unit is open and fed. Turn with a driver of plastic, touch nothing else, keep rings and chains off, and leave anything that carries mains to a person licensed for it.";

    /// <summary>How it stands, in a sentence.</summary>
    public static string Summary(UnitTrimming trimming) =>
        string.Create(CultureInfo.InvariantCulture, $"{trimming.Unit.Model.Place.Unit}: fitted to {Figures.WithUnit(trimming.Unit.Points.Points.Length, "readings")}; within {trimming.Unit.Model.Limits.TrackingCents:0.##} cents by {100 * trimming.Plan.ChanceBefore:0} % as it stands, by {100 * trimming.Plan.ChanceAfter:0} % after these turns");

    /// <summary>What to say where there is nothing to turn.</summary>
    public static string NoTurns(TrimPlan plan) => plan.ChanceBefore >= 0.5 ? "Nothing needs turning." : "No turn helps.";

    /// <summary>What to do while turning.</summary>
    public const string Stop = "Stop at the frequency, not at the count; turns still to come are in it. Then read again.";

    /// <summary>How far, and which way.</summary>
    public static string Turn(double turns) =>
        string.Create(CultureInfo.InvariantCulture, $"{(Math.Abs(turns) < 0.95 ? $"{360 * Math.Abs(turns):0}°" : $"{Math.Abs(turns):0.0} turns")} {(turns >= 0 ? "clockwise" : "counter-clockwise")}");

    /// <summary>A frequency as finely as a trimmer is set by it.</summary>
    public static string Hertz(double hertz) => hertz.ToString(hertz >= 1000 ? "0.0" : hertz >= 100 ? "0.00" : "0.000", CultureInfo.InvariantCulture);

    /// <summary>A claim's figure with its uncertainty; a plain share has none.</summary>
    public static string Figure(UnitClaim claim) =>
        claim.Unit.Length == 0 ? FormattableString.Invariant($"{claim.Figure:0.0000}") : FormattableString.Invariant($"{claim.Figure:0.00} ± {Coverage * claim.Deviation:0.00}");

    /// <summary>Its limit.</summary>
    public static string Limit(UnitClaim claim) =>
        claim.Unit.Length == 0 ? FormattableString.Invariant($"{claim.Limit:0.0000}") : FormattableString.Invariant($"{claim.Limit:0.##} {claim.Unit}");

    /// <summary>What to beware of.</summary>
    public static IEnumerable<string> Cautions(UnitTrimming trimming) => trimming.Plan.Turns.IsEmpty ? trimming.Plan.Cautions : [.. trimming.Plan.Cautions, OpenUnit];

    /// <summary>What to know of the figures.</summary>
    public static IEnumerable<string> Notes(UnitTrimming trimming)
    {
        FittedUnit unit = trimming.Unit;
        if (unit.Width.Parts > 2 || unit.Width.Smooth > 1)
            yield return string.Create(CultureInfo.InvariantCulture, $"the design's spread does not hold these readings: parts were allowed {unit.Width.Parts:0.#} times theirs, and {unit.Width.Smooth:0.##} cents that no part explains.");
        foreach (string note in trimming.Notes)
            yield return note;
    }
}
