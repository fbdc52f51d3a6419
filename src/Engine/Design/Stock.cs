using System.Collections.Immutable;

namespace Consort.Engine.Design;

/// <summary>The shelf: what parts there are to build with, and what they cost: <c>stock.yaml</c>.</summary>
/// <param name="Items">In the order of the file.</param>
public sealed record Stock(ImmutableArray<StockItem> Items)
{
    /// <summary>A shelf with nothing on it: what a folder without <c>stock.yaml</c> has.</summary>
    public static Stock Empty { get; } = new([]);
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
);
