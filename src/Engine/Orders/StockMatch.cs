using System.Collections.Immutable;
using Consort.Engine.Design;
using Consort.Engine.Quantities;

namespace Consort.Engine.Orders;

/// <summary>Finds what on the shelf will do for a sort of part.</summary>
internal static class StockMatch
{
    private const double SameValue = 1e-6; // as the series of preferred values are compared

    /// <summary>Entries that will do: the value or model, tolerance and drift as tight as asked or tighter, the same
    /// tempco. Cheapest first (those without a price last); of equal price the looser grade, then the file's order.</summary>
    public static ImmutableArray<StockItem> For(PartSort sort, Stock stock) =>
        [
            .. stock
                .Items.Where(item => item.Kind == sort.Kind && IsIt(sort, item) && IsGoodEnough(sort, item))
                .OrderBy(item => item.Price ?? double.MaxValue)
                .ThenByDescending(item => item.Tolerance ?? 1)
                .ThenByDescending(item => item.Drift ?? 1),
        ];

    private static bool IsIt(PartSort sort, StockItem item) =>
        item.Model == "any"
        || sort.Kind.Main switch
        {
            MainValue.Model => item.Model == sort.Model,
            MainValue.Word => true, // a jack is the same piece whichever way it works, and a connector whatever its name
            _ when sort.Kind.Word == "selector" => item.Value is { } ways && sort.Form == $"1 pole {ways:0} ways",
            _ => sort.Value is { } value && IsValue(Math.Abs(value), item),
        };

    private static bool IsValue(double value, StockItem item) =>
        item.Value is { } only
            ? Math.Abs((Math.Abs(only) / value) - 1) < SameValue
            : item.Series is { } series && Series.Find(series)!.Holds(value);

    private static bool IsGoodEnough(PartSort sort, StockItem item) =>
        IsWithin(item.Tolerance, sort.Tolerance) && IsWithin(item.Drift, sort.Drift) && IsTempco(sort.Tempco ?? 0, item.Tempco ?? 0);

    private static bool IsWithin(double? offered, double? asked) => asked is not { } limit || offered <= limit * (1 + SameValue);

    private static bool IsTempco(double asked, double offered) => Math.Abs(asked - offered) <= SameValue * Math.Max(1e-6, Math.Abs(asked));

    /// <summary>The designation of an entry for a sort's value.</summary>
    public static string What(StockItem item, PartSort sort) =>
        (sort with { Tolerance = item.Tolerance ?? sort.Tolerance, Drift = item.Drift ?? sort.Drift, Tempco = item.Tempco ?? sort.Tempco }).What();
}
