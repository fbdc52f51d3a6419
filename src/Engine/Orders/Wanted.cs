using System.Collections.Immutable;
using Consort.Engine.Design;
using Consort.Engine.Quantities;

namespace Consort.Engine.Orders;

/// <summary>One sort of thing that a voice needs, before the shelf is asked.</summary>
/// <param name="Kind">Word of its kind, or extra, multiple, module.</param>
/// <param name="What">Generic designation.</param>
/// <param name="Package">As the parts library or the habit of its kind has it.</param>
/// <param name="Step">Build step.</param>
/// <param name="Sort">For a part: what the shelf is asked for; else null.</param>
/// <param name="Price">For what is no part: its price.</param>
/// <param name="Have">For what is no part: pieces on the shelf.</param>
/// <param name="Source">For what is no part: where it is bought.</param>
/// <param name="Terms">For what is no part: how it is sold.</param>
/// <param name="Places">Where it stands.</param>
internal sealed record Wanted(
    string Kind,
    string What,
    string Package,
    BuildStep Step,
    PartSort? Sort,
    double? Price,
    double? Have,
    string Source,
    SaleTerms Terms,
    ImmutableArray<PartPlaces> Places
)
{
    /// <summary>Pieces in one voice.</summary>
    public int PerVoice => Places.Sum(place => place.Copies * place.Count);
}

/// <summary>All that one voice is built from.</summary>
internal sealed class Needs(Voice voice, Stock stock, PartsLibrary library)
{
    private const string TheVoice = "voice";

    private readonly ImmutableArray<(Module Module, int Copies)> modules =
    [
        .. voice.Members.GroupBy(member => member.Module.At.File).Select(group => (group.First().Module, group.Count())),
    ];

    /// <summary>Modules in panel order, each once, with how many there are.</summary>
    public ImmutableArray<(Module Module, int Copies)> Modules => modules;

    /// <summary>One entry for each sort, by build step, then kind, then value.</summary>
    public ImmutableArray<Wanted> All() =>
        [
            .. Parts().Concat(Wires()).Concat(Multiples()).Concat(Bought()).Concat(Extras())
                .OrderBy(wanted => wanted.Step)
                .ThenBy(wanted => Order(wanted.Kind))
                .ThenBy(wanted => Math.Abs(wanted.Sort?.Value ?? 0))
                .ThenBy(wanted => wanted.What, StringComparer.Ordinal),
        ];

    /// <summary>Packages of which the circuit leaves sections idle: their inputs want to be tied.</summary>
    public IEnumerable<(Module Module, Piece Piece)> Idle() =>
        modules.SelectMany(module => Pieces.Of(module.Module, library).Where(piece => piece.Used < piece.Sections).Select(piece => (module.Module, piece)));

    private static int Order(string kind) => PartKinds.Find(kind) is { } known ? PartKinds.All.IndexOf(known) : int.MaxValue;

    private IEnumerable<Wanted> Parts() =>
        modules
            .SelectMany(entry => Pieces.Of(entry.Module, library).GroupBy(piece => piece.Sort).Select(group => (entry.Module, entry.Copies, Pieces: group.ToArray())))
            .GroupBy(group => group.Pieces[0].Sort)
            .Select(sort => new Wanted(
                sort.Key.Kind.Word,
                sort.Key.What(),
                sort.First().Pieces[0].Package ?? Packages.Usual(sort.Key),
                BuildSteps.Of(sort.Key.Kind),
                sort.Key,
                null,
                null,
                "",
                SaleTerms.Single,
                [.. sort.Select(group => new PartPlaces(group.Module.Name, group.Copies, group.Pieces.Length, [.. group.Pieces.Select(piece => piece.Name)]))]
            ));

    private IEnumerable<Wanted> Wires()
    {
        PartKind cord = PartKinds.Find("cord")!;
        foreach (IGrouping<double, Cord> length in voice.Cords.GroupBy(cord => cord.Length))
            yield return Wire(cord, length.Key, "", length.Count());
        foreach (IGrouping<(double, int), Ribbon> same in voice.Ribbons.GroupBy(ribbon => (ribbon.Length * ribbon.To.Length, Wires(ribbon))))
            yield return Wire(PartKinds.Find("ribbon")!, same.Key.Item1, $"{same.Key.Item2} wires, {same.First().To.Length + 1} connectors", same.Count());
    }

    private int Wires(Ribbon ribbon) =>
        voice.Members.First(member => member.Name == ribbon.From.Owner).Module.Circuit
            .First(part => part.Kind.Word == "header" && part.Texts["value"] == ribbon.From.Label)
            .Terminals.Length;

    private static Wanted Wire(PartKind kind, double length, string form, int count)
    {
        PartSort sort = new(kind, length, null, null, null, null, form);
        return new(kind.Word, sort.What(), "", BuildStep.Assembly, sort, null, null, "", SaleTerms.Single, [new(TheVoice, 1, count, [])]);
    }

    private IEnumerable<Wanted> Multiples() =>
        voice.Multiples.GroupBy(multiple => (multiple.Buffered, multiple.Ways)).Select(same =>
        {
            StockMultiple? shelf = stock.Multiples.FirstOrDefault(item => item.Buffered == same.Key.Buffered && item.Ways == same.Key.Ways);
            string width = same.First().Width > 0 ? QuantityText.Write(same.First().Width, Dimension.PanelWidth) : "";
            return new Wanted("multiple", $"{(same.Key.Buffered ? "buffered" : "passive")} 1 to {same.Key.Ways}", width, BuildStep.Assembly,
                null, shelf?.Price, null, "", SaleTerms.Single, [new(TheVoice, 1, same.Count(), [.. same.Select(multiple => multiple.Name)])]);
        });

    private IEnumerable<Wanted> Bought() =>
        modules.Where(entry => entry.Module.Sheet is not null).Select(entry => new Wanted("module", entry.Module.Name,
            QuantityText.Write(entry.Module.Panel.Width, Dimension.PanelWidth), BuildStep.Assembly, null, entry.Module.Sheet!.Price, null, "",
            SaleTerms.Single, [new(TheVoice, 1, entry.Copies, [])]));

    // One name is one thing, whatever it comes with: sockets of op amps and of comparators.
    private IEnumerable<Wanted> Extras() =>
        stock.Extras.GroupBy(extra => (extra.Name, extra.Package)).Select(same => (First: same.First(), Places: PartPlaces.Joined(same.SelectMany(extra => Places(extra))))).Where(pair => !pair.Places.IsEmpty).Select(pair => new Wanted(
            "extra", pair.First.Name, pair.First.Package ?? "", BuildStep.Assembly, null, pair.First.Price, pair.First.Have, pair.First.Source, pair.First.Terms, pair.Places));

    private ImmutableArray<PartPlaces> Places(StockExtra extra)
    {
        if (extra.Each == TheVoice)
            return [new(TheVoice, 1, extra.Count, [])];
        return
        [
            .. modules
                .Where(entry => entry.Module.Sheet is null && (extra.Only is null || entry.Module.At.File == $"modules/{extra.Only}.yaml"))
                .Select(entry => new PartPlaces(entry.Module.Name, entry.Copies, extra.Count * Counted(entry.Module, extra.Each), []))
                .Where(place => place.Count > 0),
        ];
    }

    private int Counted(Module module, string each) =>
        each == "module" ? 1 : Pieces.Of(module, library).Count(piece => piece.Sort.Kind.Word == each);
}
