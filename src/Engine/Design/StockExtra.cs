using System.Collections.Immutable;

namespace Consort.Engine.Design;

/// <summary>How a thing is sold.</summary>
/// <param name="Breaks">Lower prices of one piece from a number of pieces on, by rising number.</param>
/// <param name="SoldIn">Pieces to a pack: it is bought in whole packs.</param>
/// <param name="Spare">Spare pieces as a share of those needed; null for the habit of its kind.</param>
public sealed record SaleTerms(ImmutableArray<PriceBreak> Breaks, int SoldIn, double? Spare)
{
    /// <summary>By the piece, at one price.</summary>
    public static SaleTerms Single { get; } = new([], 1, null);
}

/// <summary>The price of one piece from a number of pieces on.</summary>
public readonly record struct PriceBreak(int From, double Price);

/// <summary>A thing of a kit that stands in no circuit: <c>{extra: knob, each: potentiometer, price: 0.40}</c>.</summary>
/// <param name="Name">What it is.</param>
/// <param name="Each">For each of what: a kind of part, <c>module</c> or <c>voice</c>.</param>
/// <param name="Only">File name of the only module that it is for; null for all.</param>
/// <param name="Count">Pieces for each.</param>
/// <param name="Price">Of one piece; null when it is not stated.</param>
/// <param name="Have">Pieces on the shelf; null when they are not counted.</param>
/// <param name="Source">Where it is bought; empty when it is not stated.</param>
/// <param name="Package">Size or form in plain words; null when it is not stated.</param>
/// <param name="Terms">How it is sold.</param>
/// <param name="At">Where it stands.</param>
public sealed record StockExtra(
    string Name,
    string Each,
    string? Only,
    int Count,
    double? Price,
    double? Have,
    string Source,
    string? Package,
    SaleTerms Terms,
    SourceSpan At
);

/// <summary>A multiple that can be had: <c>{multiple: passive, ways: 3, width: 4 HP, price: 18}</c>.</summary>
/// <param name="Buffered">True when each output has its own buffer.</param>
/// <param name="Ways">Outputs.</param>
/// <param name="Width">Panel width, m.</param>
/// <param name="Depth">Depth behind the panel, m.</param>
/// <param name="Price">Null when it is not stated.</param>
/// <param name="Current">Drawn from each rail, A (0 when passive).</param>
/// <param name="Design">Its electrical figures, as a voice's multiple has them; its name is that of the kind.</param>
public sealed record StockMultiple(
    bool Buffered,
    int Ways,
    double Width,
    double Depth,
    double? Price,
    double Current,
    Multiple Design
)
{
    /// <summary>Multiples in one module, each by itself: the width, price and current are those of the whole module.</summary>
    public int Sections { get; init; } = 1;
}
