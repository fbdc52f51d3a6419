using System.Collections.Immutable;
using System.Globalization;
using Consort.Engine.Orders;

namespace Consort.Engine.Documents.Parts;

/// <summary>One table of a parts order: titles and rows of texts and numbers. CSV, workbook and pages are made from it.</summary>
/// <param name="Name">Its name.</param>
/// <param name="Columns">Titles.</param>
/// <param name="Rows">Cells: a text, a number (decimal or int), or null.</param>
public sealed record PartsSheet(string Name, ImmutableArray<string> Columns, ImmutableArray<ImmutableArray<object?>> Rows)
{
    /// <summary>All tables of an order.</summary>
    public static ImmutableArray<PartsSheet> Of(PartsOrder order) => [Lines(order), Missing(order), Costs(order), Bags(order)];

    /// <summary>The bill of materials.</summary>
    public static PartsSheet Lines(PartsOrder order) =>
        new(
            "parts",
            ["kind", "what", "package", "per voice", "need", "spares", "have", "missing", "buy", "each", "cost", "source", "where"],
            [
                .. order.Lines.Select(line => Row(line.Kind, line.What, line.Package, line.PerVoice, line.Need, line.Spares, line.Have,
                    line.Missing, line.Buy, line.Each, line.Cost, line.Source, Where(line))),
            ]
        );

    /// <summary>What the units lack, and what would do instead.</summary>
    public static PartsSheet Missing(PartsOrder order) =>
        new(
            "missing",
            ["kind", "what", "package", "missing", "buy", "each", "cost", "source", "would do instead"],
            [
                .. order.Lines.Where(line => line.Missing > 0).Select(line => Row(line.Kind, line.What, line.Package, line.Missing, line.Buy, line.Each,
                    line.Cost, line.Source, string.Join("; ", line.Substitutes.Select(Instead)))),
            ]
        );

    /// <summary>A substitute in words.</summary>
    public static string Instead(Substitute other) =>
        other.What
        + (other.Each is { } each ? string.Create(CultureInfo.InvariantCulture, $" at {each:0.00##}") : "")
        + (other.Have is { } have ? $", {have} on the shelf" : "")
        + (other.Source.Length > 0 ? $" ({other.Source})" : "");

    private static PartsSheet Costs(PartsOrder order) =>
        new(
            "cost",
            ["module", "in one voice", "pieces", "parts of one", "sorts without a price"],
            [
                .. order.Modules.Select(module => Row(module.Module, module.Copies, module.Pieces, module.Cost, module.Unpriced)),
                Row("the whole voice", 1, order.Lines.Sum(line => line.PerVoice), order.VoiceCost, order.Unpriced),
            ]
        );

    private static PartsSheet Bags(PartsOrder order) =>
        new(
            "kit",
            ["bag", "module", "such bags in a voice", "step", "count", "what", "package", "where"],
            [
                .. order.Bags.SelectMany(bag => bag.Items.Select(item => Row(bag.Number, bag.Module, bag.Copies, BuildSteps.Title(bag.Step),
                    item.Count, item.What, item.Package, Ranges.Write(item.Designators)))),
            ]
        );

    private static string Where(OrderLine line) =>
        string.Join("; ", line.Places.Select(place => $"{place.Module}{(place.Copies > 1 ? $" x{place.Copies}" : "")}: "
            + (place.Designators.IsEmpty ? $"{place.Count}" : Ranges.Write(place.Designators))));

    private static ImmutableArray<object?> Row(params object?[] cells) => [.. cells];
}
