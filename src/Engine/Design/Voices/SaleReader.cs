using System.Collections.Immutable;
using Consort.Engine.Quantities;

namespace Consort.Engine.Design;

/// <summary>Reads what every entry of the shelf says about buying: price, breaks, packs, spares.</summary>
internal static class SaleReader
{
    /// <summary>Breaks, packs and spares of an entry.</summary>
    public static SaleTerms Terms(MapReader entry)
    {
        int soldIn = (int)entry.InRange("sold in", Dimension.Ratio, 1, 1, 1e6, whole: true);
        double spare = entry.InRange("spare", Dimension.Ratio, double.NaN, 0, 10);
        return new(Breaks(entry), soldIn, double.IsNaN(spare) ? null : spare);
    }

    /// <summary>A price, or null.</summary>
    public static double? Price(MapReader entry) => Within(entry, "price", Dimension.Money, 0, 1e9);

    /// <summary>A number within limits, or null when it is not there.</summary>
    public static double? Within(MapReader entry, string key, Dimension dimension, double low, double high)
    {
        double value = entry.InRange(key, dimension, double.NaN, low, high);
        return double.IsNaN(value) ? null : value;
    }

    private static ImmutableArray<PriceBreak> Breaks(MapReader entry)
    {
        if (entry.Inner("price breaks") is not { } map)
            return [];
        List<PriceBreak> breaks = [];
        foreach (YamlEntry step in map.Map.Entries)
            if (!int.TryParse(step.Key, out int from) || from < 2)
                entry.Errors.Add(ErrorCodes.NotABreak, step.KeyAt, $"{entry.Who}: {ErrorList.Quote(step.Key)} is no number of pieces",
                    "write 'price breaks: {100: 0.09}', whole numbers above 1");
            else if (map.NumberOf(step, Dimension.Money) is { } price && price >= 0)
                breaks.Add(new(from, price));
        return [.. breaks.OrderBy(step => step.From)];
    }
}
