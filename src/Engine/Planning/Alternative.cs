using System.Collections.Immutable;
using Consort.Engine.Design;

namespace Consort.Engine.Planning;

/// <summary>How a signal is split.</summary>
public enum SplitWay
{
    /// <summary>Passive multiples.</summary>
    Passive,
    /// <summary>Buffered multiples.</summary>
    Buffered,
    /// <summary>From one module's output into the next one's input.</summary>
    Chained,
}

/// <summary>One way to wire a voice, with what it takes.</summary>
/// <param name="Name">In a few words: <c>1 × quartet lead, 3 followers on its link</c>.</param>
/// <param name="Voice">The voice, wired so.</param>
/// <param name="Places">Where everything stands in the case.</param>
/// <param name="WidthMetres">Panel width of all modules and multiples together, m.</param>
/// <param name="Rows">Rows of the case that they fill.</param>
/// <param name="DepthMetres">Of the deepest, m.</param>
/// <param name="Cords">Number of cords.</param>
/// <param name="CordMetres">Their lengths together, m.</param>
/// <param name="Multiples">Number of multiples.</param>
/// <param name="FreeInputsLost">Inputs that stay free in the alternative with most of them, less those that stay free here.</param>
/// <param name="Price">Of all parts, bought modules and multiples; what has no price is left out.</param>
/// <param name="Unpriced">Lines without a price.</param>
/// <param name="Pitch">What the wiring does to pitch.</param>
/// <param name="Case">Whether it fits case and supply.</param>
/// <param name="Unmet">Wishes that it does not fulfil, in words.</param>
/// <param name="Extra">What reaches oscillators that were not to have it, in words.</param>
/// <param name="IsUnbeaten">True when no other is as good on every count and better on one.</param>
/// <param name="Sentence">What tells it from the others.</param>
public sealed record Alternative(
    string Name,
    Voice Voice,
    ImmutableArray<RowPlace> Places,
    double WidthMetres,
    int Rows,
    double DepthMetres,
    int Cords,
    double CordMetres,
    int Multiples,
    int FreeInputsLost,
    decimal Price,
    int Unpriced,
    WiringReading Pitch,
    CaseCheck Case,
    ImmutableArray<string> Unmet,
    ImmutableArray<string> Extra,
    bool IsUnbeaten,
    string Sentence
)
{
    /// <summary>What its builds do; null when none were asked for.</summary>
    public WayBuilds? Builds { get; init; }

    /// <summary>Where its oscillators lock; null when that was not asked for.</summary>
    public WayLock? Lock { get; init; }

    /// <summary>All counts in which less is better. Pitch counts by the hundredth of a cent and yield by the
    /// hundredth: the rest is how well they are computed. A yield that could not be computed counts as none.</summary>
    public ImmutableArray<double> Counts =>
        [
            WidthMetres, Rows, DepthMetres, Cords, CordMetres, Multiples, FreeInputsLost, .. Case.Rails.Select(rail => rail.Amps), (double)Price,
            Math.Round(Math.Abs(Pitch.MovedCents), 2), Math.Round(Pitch.TrackingCents, 2), Math.Round(Pitch.ApartCents, 2), Unmet.Length, Extra.Length,
            .. Builds is null ? [] : (double[])[1 - Math.Round(Builds.Yield?.Share ?? 0, 2)],
            .. Lock is null ? [] : (double[])[Math.Round(Lock.Widest?.Width ?? 0, 2)],
        ];

    /// <summary>True when this one is as good on every count and better on one.</summary>
    public bool Beats(Alternative other) =>
        Counts.Zip(other.Counts).All(pair => pair.First <= pair.Second + 1e-9) && Counts.Zip(other.Counts).Any(pair => pair.First < pair.Second - 1e-9);
}

/// <summary>A module or multiple in its row.</summary>
/// <param name="Name">Of the member, or of the multiples' module.</param>
/// <param name="Row">From 0.</param>
/// <param name="Left">From the row's left end, m.</param>
/// <param name="Width">m.</param>
/// <param name="Height">m.</param>
/// <param name="Holds">Multiples that stand in it; empty for a member.</param>
public sealed record RowPlace(string Name, int Row, double Left, double Width, double Height, ImmutableArray<string> Holds);

/// <summary>All sensible ways to wire a voice.</summary>
/// <param name="Voice">The voice's name.</param>
/// <param name="Intent">What was wanted.</param>
/// <param name="Alternatives">From the widest to the narrowest.</param>
/// <param name="LeftOut">Ways that were not taken up, and why.</param>
/// <param name="Notes">What the figures hold and what they do not.</param>
public sealed record WiringPlan(string Voice, Intent Intent, ImmutableArray<Alternative> Alternatives, ImmutableArray<string> LeftOut, ImmutableArray<string> Notes);
