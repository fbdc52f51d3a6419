using System.Collections.Immutable;
using Consort.Engine.Design;

namespace Consort.Engine.Orders;

/// <summary>Lists the parts of so many units of a voice against the shelf.</summary>
/// <param name="voice">The voice.</param>
/// <param name="stock">The shelf.</param>
/// <param name="library">Where packages and sections of models stand.</param>
public sealed class PartsLister(Voice voice, Stock stock, PartsLibrary library)
{
    private const int MostSubstitutes = 3;

    /// <summary>The order for so many units.</summary>
    public PartsOrder List(int units)
    {
        Needs needs = new(voice, stock, library);
        ImmutableArray<OrderLine> lines = [.. Merged(needs.All()).Select(wanted => Line(wanted, units))];
        ImmutableArray<ModuleCost> modules = [.. needs.Modules.Where(entry => entry.Module.Sheet is null).Select(entry => CostOf(entry.Module.Name, entry.Copies, lines))];
        return new(
            voice.Name,
            units,
            stock.Currency,
            lines,
            modules,
            lines.Sum(line => line.PerVoice * (line.Each ?? 0)),
            lines.Sum(line => line.Cost ?? 0),
            lines.Count(line => line.Each is null),
            Kit.Pack(lines),
            [.. Notes(needs, lines)]
        );
    }

    // Two grades that one entry of the shelf serves are bought as one, in the tighter grade.
    private IEnumerable<Wanted> Merged(IEnumerable<Wanted> all) =>
        all.GroupBy(wanted => wanted.Sort is { } sort && StockMatch.For(sort, stock) is [var item, ..] ? (object)(item, sort.Value, sort.Model, sort.Form) : wanted)
            .Select(same => same.Count() == 1 ? same.First() : Merge([.. same]));

    private static Wanted Merge(Wanted[] same)
    {
        PartSort sort = same[0].Sort! with { Tolerance = same.Min(wanted => wanted.Sort!.Tolerance), Drift = same.Min(wanted => wanted.Sort!.Drift) };
        return same[0] with { Sort = sort, What = sort.What(), Places = PartPlaces.Joined(same.SelectMany(wanted => wanted.Places)) };
    }

    private OrderLine Line(Wanted wanted, int units)
    {
        ImmutableArray<StockItem> fits = wanted.Sort is { } sort ? StockMatch.For(sort, stock) : [];
        StockItem? item = fits.FirstOrDefault();
        SaleTerms terms = item?.Terms ?? wanted.Terms;
        double? price = item is null ? wanted.Price : item.Price;
        int? have = Pieces(item is null ? wanted.Have : item.Have);
        int need = wanted.PerVoice * units;
        int spares = (int)Math.Ceiling((need * (terms.Spare ?? Packages.UsualSpare(wanted.Kind))) - 1e-9); // 0.05 × 20 is one
        (int buy, decimal? cost) = Buying.Best(need + spares - (have ?? 0), price, terms);
        return new(
            wanted.Kind,
            wanted.What,
            item?.Package ?? wanted.Package,
            wanted.Step,
            wanted.PerVoice,
            need,
            spares,
            have,
            Math.Max(0, need - (have ?? 0)),
            buy,
            Buying.Each(Math.Max(buy, need), price, terms),
            cost,
            item?.Source ?? wanted.Source,
            item is not null || wanted.Sort is null,
            wanted.Sort is null ? [] : [.. fits.Skip(1).Select(other => Other(other, wanted.Sort, need)).Where(other => other.What != StockMatch.What(item!, wanted.Sort)).DistinctBy(other => other.What).Take(MostSubstitutes)],
            wanted.Places
        );
    }

    private static Substitute Other(StockItem item, PartSort sort, int need) =>
        new(StockMatch.What(item, sort), Buying.Each(need, item.Price, item.Terms), Pieces(item.Have), item.Source);

    private static int? Pieces(double? count) => count is { } known ? (int)known : null;

    private static ModuleCost CostOf(string module, int copies, ImmutableArray<OrderLine> lines)
    {
        (OrderLine Line, PartPlaces Place)[] own =
        [
            .. lines.SelectMany(line => line.Places.Where(place => place.Module == module).Select(place => (line, place))),
        ];
        return new(module, copies, own.Sum(pair => pair.Place.Count), own.Sum(pair => pair.Place.Count * (pair.Line.Each ?? 0)), own.Count(pair => pair.Line.Each is null));
    }

    private static IEnumerable<string> Notes(Needs needs, ImmutableArray<OrderLine> lines)
    {
        foreach ((Module module, Piece piece) in needs.Idle())
            yield return $"{module.Name}: {piece.Used} of {piece.Sections} sections of {piece.Name} ({piece.Sort.Model}) used: tie the inputs of the rest.";
        if (lines.Count(line => !line.InStock) is > 0 and var absent)
            yield return $"{absent} {(absent == 1 ? "line has" : "lines have")} no entry in stock.yaml that is good enough.";
    }
}
