using System.Collections.Immutable;

namespace Consort.Engine.Design;

/// <summary>The shelf: what parts there are to build with, and what they cost: <c>stock.yaml</c>.</summary>
/// <param name="Items">Parts, in the order of the file.</param>
public sealed record Stock(ImmutableArray<StockItem> Items)
{
    /// <summary>A shelf with nothing on it: what a folder without <c>stock.yaml</c> has.</summary>
    public static Stock Empty { get; } = new([]);

    /// <summary>The word for the currency that all prices are in; empty when it is not stated.</summary>
    public string Currency { get; init; } = "";

    /// <summary>What a kit needs besides the circuit's parts: knobs, screws, sockets, boards, panels.</summary>
    public ImmutableArray<StockExtra> Extras { get; init; } = [];

    /// <summary>Multiples that can be had, for wiring plans.</summary>
    public ImmutableArray<StockMultiple> Multiples { get; init; } = [];
}

/// <summary>One entry of the shelf: a whole series of values, one value, or one model of one kind of part.</summary>
/// <param name="Kind">The kind.</param>
/// <param name="Series">A series of preferred values after IEC 60063 (<c>E96</c>): every value of it can be had. Null for
/// one value or a model.</param>
/// <param name="Value">One value, SI units; null for a series or a model.</param>
/// <param name="Model">The model, for kinds that have models, or the word of a jack or connector; else null.</param>
/// <param name="Tolerance">Half-width of the value's spread, relative; null when it is not stated.</param>
/// <param name="Drift">Limit of the relative change per kelvin, either sign; null when it is not stated.</param>
/// <param name="Tempco">Known relative change per kelvin; null when it is not stated.</param>
/// <param name="Price">Of one piece, in the folder's own currency; null when it is not stated.</param>
/// <param name="Have">Pieces on the shelf (of each value, for a series); null when they are not counted.</param>
/// <param name="Source">Where it is bought; empty when it is not stated.</param>
/// <param name="At">Where it stands.</param>
public sealed record StockItem(
    PartKind Kind,
    string? Series,
    double? Value,
    string? Model,
    double? Tolerance,
    double? Drift,
    double? Tempco,
    double? Price,
    double? Have,
    string Source,
    SourceSpan At
)
{
    /// <summary>Its package, in plain words; null when it is not stated.</summary>
    public string? Package { get; init; }

    /// <summary>How it is sold.</summary>
    public SaleTerms Terms { get; init; } = SaleTerms.Single;

    /// <summary>How pieces lie between the limits, <c>uniform</c> or <c>normal</c>; null when it is not stated.</summary>
    public string? Spread { get; init; }

    /// <summary>For a normal spread, standard deviations from the middle to a limit; null when it is not stated.</summary>
    public double? Sigmas { get; init; }

    /// <summary>Relative departures of pieces that were measured; empty when none were.</summary>
    public ImmutableArray<double> Measured { get; init; } = [];

    /// <summary>How alike the pieces of one reel are: correlation of their departures, 0 to 1.</summary>
    public double Reel { get; init; }

    /// <summary>True when a part is one of these: the same kind, a value or model that is here, and no limit that differs.</summary>
    public bool Holds(Part part) =>
        part.Kind == Kind
        && (Model is null or "any" || Model == part.Texts.GetValueOrDefault("model"))
        && (Value is null || SameTo(Value, part, "value"))
        && SameTo(Tolerance, part, "tolerance")
        && SameTo(Drift, part, "drift")
        && SameTo(Tempco, part, "tempco")
        && (Series is null || (Quantities.Series.Find(Series)?.Holds(Math.Abs(part.Numbers.GetValueOrDefault("value"))) ?? false));

    private static bool SameTo(double? stated, Part part, string word) =>
        stated is not { } value || Math.Abs(part.Numbers.GetValueOrDefault(word) - value) <= 1e-6 * Math.Abs(value);
}
