using System.Collections.Immutable;
using Consort.Engine.Quantities;

namespace Consort.Engine.Design;

/// <summary>Reads what stands on the shelf besides parts: extras and multiples.</summary>
internal sealed class ExtrasReader(MapReader file, ErrorList errors)
{
    /// <summary>The extras that can be read.</summary>
    public ImmutableArray<StockExtra> Extras() => [.. file.Maps("extras", "extras", "{extra: knob, each: potentiometer, price: 0.40}").Select(Extra).OfType<StockExtra>()];

    /// <summary>The multiples that can be read.</summary>
    public ImmutableArray<StockMultiple> Multiples() => [.. file.Maps("multiples", "multiples", "{multiple: passive, ways: 3, width: 4 HP}").Select(Multiple).OfType<StockMultiple>()];

    private StockExtra? Extra(MapReader map)
    {
        int before = errors.Mistakes;
        string? name = map.NeedText("extra", "extra: knob");
        YamlText? each = map.Need("each", "each: potentiometer") is { } entry ? map.TextOf(entry) : null;
        string? only = map.Text("only");
        int count = (int)map.InRange("count", Dimension.Ratio, 1, 1, 1e6, whole: true);
        string[] known = ["module", "voice", .. PartKinds.All.Where(StockReader.CanBeStocked).Select(kind => kind.Word)];
        if (each is not null && !known.Contains(each.Value))
            errors.Add(ErrorCodes.NotCounted, each.At, $"{map.Who}: {ErrorList.Quote(each.Value)} is nothing that a kit counts",
                NearName.Of(each.Value, known) is { } near ? $"did you mean '{near}'?" : "write 'each: module', 'each: voice' or a kind of part");
        StockExtra extra = new(
            name ?? "",
            each?.Value ?? "",
            only,
            count,
            SaleReader.Price(map),
            SaleReader.Within(map, "have", Dimension.Ratio, 0, 1e9),
            map.Text("source") ?? "",
            map.Text("package"),
            SaleReader.Terms(map),
            map.At
        );
        map.RefuseTheRest();
        return errors.Mistakes > before ? null : extra;
    }

    private StockMultiple? Multiple(MapReader map)
    {
        int before = errors.Mistakes;
        double? price = SaleReader.Price(map);
        double depth = map.InRange("depth", Dimension.Length, 0, 0, 1);
        double current = map.InRange("current", Dimension.Current, 0, 0, 10);
        int sections = (int)map.InRange("sections", Dimension.Ratio, 1, 1, 64, whole: true);
        Multiple? design = MultipleReader.Read("multiple", map, map.At);
        return errors.Mistakes > before || design is null
            ? null
            : new(design.Buffered, design.Ways, design.Width, depth, price, current, design) { Sections = sections };
    }
}
