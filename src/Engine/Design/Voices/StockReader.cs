using System.Collections.Immutable;
using Consort.Engine.Quantities;

namespace Consort.Engine.Design;

/// <summary>Reads <c>stock.yaml</c>.</summary>
internal sealed class StockReader(MapReader file, ErrorList errors)
{
    /// <summary>True for kinds that can lie on a shelf (cords and ribbons are cut to length, sources are no parts).</summary>
    public static bool CanBeStocked(PartKind kind) =>
        kind.Word is not ("voltage source" or "current source" or "law" or "charge law");

    /// <summary>What could be read.</summary>
    public Stock Read()
    {
        ImmutableArray<StockItem>.Builder items = ImmutableArray.CreateBuilder<StockItem>();
        file.Need("stock", "stock: [{resistor: E96, price: 0.10}]");
        int number = 0;
        foreach (YamlNode node in file.Items("stock"))
        {
            number++;
            if (node is not YamlMap map)
                errors.Add(ErrorCodes.WrongShape, node.At, $"entry {number} is {node.Shape}, not a map", "write '- {resistor: E96, price: 0.10}'");
            else if (ReadItem(map, number) is { } item)
                items.Add(item);
        }
        string currency = file.Text("currency") ?? "";
        ExtrasReader others = new(file, errors);
        Stock stock = new(items.ToImmutable()) { Currency = currency, Extras = others.Extras(), Multiples = others.Multiples() };
        file.RefuseTheRest();
        return stock;
    }

    private StockItem? ReadItem(YamlMap map, int number)
    {
        string[] known = [.. PartKinds.All.Where(CanBeStocked).Select(kind => kind.Word)];
        YamlEntry? first = map.Entries.FirstOrDefault(entry => known.Contains(entry.Key));
        if (first is null)
        {
            SourceSpan at = map.Entries.IsEmpty ? map.At : map.Entries[0].KeyAt;
            string written = map.Entries.IsEmpty ? "" : map.Entries[0].Key;
            errors.Add(ErrorCodes.NotStocked, at, $"entry {number}: {ErrorList.Quote(written)} is no kind of part",
                NearName.Of(written, known) is { } near ? $"did you mean '{near}'?" : "begin with a kind: {resistor: E96, ...}");
            return null;
        }
        PartKind kind = PartKinds.Find(first.Key)!;
        MapReader reader = new(map, $"entry {number}", errors);
        reader.Take(first.Key);
        int before = errors.Mistakes;
        (string? series, double? value, string? model) = Main(kind, first, reader);
        StockItem item = new(
            kind,
            series,
            value,
            model,
            SaleReader.Within(reader, "tolerance", Dimension.Ratio, 0, 1),
            SaleReader.Within(reader, "drift", Dimension.PerKelvin, 0, 0.1),
            SaleReader.Within(reader, "tempco", Dimension.PerKelvin, -0.1, 0.1),
            SaleReader.Price(reader),
            SaleReader.Within(reader, "have", Dimension.Ratio, 0, 1e9),
            reader.Text("source") ?? "",
            map.At
        )
        {
            Spread = reader.Word("spread", "uniform", "normal"),
            Sigmas = SaleReader.Within(reader, "sigmas", Dimension.Ratio, 0.5, 10),
            Reel = SaleReader.Within(reader, "reel", Dimension.Ratio, 0, 1) ?? 0,
            Measured = Measured(reader),
            Package = reader.Text("package"),
            Terms = SaleReader.Terms(reader),
        };
        reader.RefuseTheRest();
        return errors.Mistakes > before ? null : item;
    }

    private ImmutableArray<double> Measured(MapReader reader)
    {
        if (reader.Take("measured") is not { } entry)
            return [];
        ImmutableArray<YamlNode> nodes = reader.Items("measured");
        if (entry.Value is YamlList && nodes.IsEmpty)
            errors.Add(ErrorCodes.MeasuredSpread, entry.KeyAt, $"{reader.Who}: 'measured' lists nothing", "write relative departures: measured: [+0.12%, -0.05%]");
        if (reader.Map.Find("spread") is not null || reader.Map.Find("sigmas") is not null)
            errors.Add(ErrorCodes.MeasuredSpread, entry.KeyAt, $"{reader.Who}: 'measured' stands beside 'spread' or 'sigmas'", "leave one of them out");
        ImmutableArray<double>.Builder values = ImmutableArray.CreateBuilder<double>();
        foreach (YamlNode node in nodes)
            if (node is not YamlText { IsNothing: false } text)
                errors.Add(ErrorCodes.WrongShape, node.At, $"{reader.Who}: in 'measured' stands {node.Shape}", "write relative departures: measured: [+0.12%, -0.05%]");
            else if (errors.Quantity(text, Dimension.Ratio, $"{reader.Who}: measured", bare: true) is { } value)
                values.Add(value);
        return values.ToImmutable();
    }

    private (string? Series, double? Value, string? Model) Main(PartKind kind, YamlEntry entry, MapReader reader)
    {
        if (reader.TextOf(entry) is not { } text)
            return default;
        if (text.Value == "any" || kind.Main is MainValue.Model or MainValue.Word)
            return (null, null, text.Value);
        if (Series.Find(text.Value) is { } series)
            return (series.Name, null, null);
        if (Quantity.TryRead(text.Value, kind.ValueDimension!.Value, bare: true, out double value, out _))
            return (null, value, null);
        errors.Add(ErrorCodes.NotASeries, text.At,
            $"{reader.Who}: {ErrorList.Quote(text.Value)} is neither a series nor {DimensionWords.Of(kind.ValueDimension.Value).Name}",
            NearName.Of(text.Value, Series.All.Select(s => s.Name)) is { } near
                ? $"did you mean '{near}'?"
                : "write a series (E96), one value (4k7) or 'any'");
        return default;
    }
}
