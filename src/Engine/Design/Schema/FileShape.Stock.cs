using System.Text.Json.Nodes;
using Consort.Engine.Quantities;

namespace Consort.Engine.Design.Schema;

internal static partial class FileShape
{
    /// <summary>A stock file.</summary>
    public static JsonObject Stock() =>
        Shape.Map(
            "the parts on the shelf",
            new("stock", Shape.List(Shape.AnyOf("", PartKinds.All.Where(StockReader.CanBeStocked).Select(Item)), "entries", 0), true),
            new("currency", Shape.Text("the word for the currency of all prices")),
            new("extras", Shape.List(Extra(), "what a kit needs besides the circuit's parts: knobs, screws, sockets, boards", 0)),
            new("multiples", Shape.List(ShelfMultiple(), "multiples that can be had, for wiring plans", 0))
        );

    private static JsonObject Item(PartKind kind) =>
        Shape.Map(
            kind.Meaning,
            [
            new(kind.Word, Shape.Text("a series (E96), one value, a model, or 'any'"), true),
            new("tolerance", Q(Dimension.Ratio, "half-width of the value's spread")),
            new("drift", Q(Dimension.PerKelvin, "limit of the relative change per kelvin, either sign")),
            new("tempco", Q(Dimension.PerKelvin, "known relative change per kelvin")),
            new("spread", Shape.Word("how pieces lie between the limits; not given: as the kind says", ["uniform", "normal"])),
            new("sigmas", Q(Dimension.Ratio, "for a normal spread: standard deviations from the middle to a limit; not given: 3")),
            new("measured", Shape.List(Q(Dimension.Ratio, ""), "relative departures of pieces that were measured, instead of 'spread'", 1)),
            new("reel", Q(Dimension.Ratio, "correlation of the departures of pieces off one reel; not given: 0")),
            .. Sale(),
            ]
        );

    private static Shape.Entry[] Sale() =>
        [
            new("package", Shape.Text("its package or size, in plain words")),
            new("price", Q(Dimension.Money, "of one piece")),
            new("price breaks", Shape.MapOf(Q(Dimension.Money, "of one piece"), "lower prices, each from a number of pieces on: {100: 0.09}")),
            new("sold in", Q(Dimension.Ratio, "pieces to a pack; not given: 1")),
            new("spare", Q(Dimension.Ratio, "spare pieces as a share of those needed; not given: as the kind says")),
            new("have", Q(Dimension.Ratio, "pieces on the shelf")),
            new("source", Shape.Text("where it is bought")),
        ];

    private static JsonObject Extra() =>
        Shape.Map(
            "a thing of a kit that stands in no circuit",
            [
                new("extra", Shape.Text("what it is"), true),
                new("each", Shape.Text("for each of what: a kind of part, module or voice"), true),
                new("only", Shape.Text("file name of the one module that it is for; not given: all")),
                new("count", Q(Dimension.Ratio, "pieces for each; not given: 1")),
                .. Sale(),
            ]
        );

    private static JsonObject ShelfMultiple() =>
        Shape.Map(
            "a multiple that can be had",
            [
                .. MultipleEntries(),
                new("sections", Q(Dimension.Ratio, "multiples in one module, each by itself; not given: 1")),
                new("depth", Q(Dimension.Length, "depth behind the panel; not given: 0")),
                new("current", Q(Dimension.Current, "drawn from each rail; not given: 0")),
                new("price", Q(Dimension.Money, "of one")),
            ]
        );
}
