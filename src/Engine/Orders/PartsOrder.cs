using System.Collections.Immutable;

namespace Consort.Engine.Orders;

/// <summary>What so many units of a voice are built from: what is needed, what lies on the shelf, what has to be bought,
/// what it costs, and how the kits are packed.</summary>
/// <param name="Voice">The voice's name.</param>
/// <param name="Units">How many of it are built.</param>
/// <param name="Currency">Word for the currency; empty when the folder states none.</param>
/// <param name="Lines">One line for each sort of part, by build step.</param>
/// <param name="Modules">What each module costs.</param>
/// <param name="VoiceCost">Parts of one voice at the prices of this order.</param>
/// <param name="ToBuy">Money for everything that has to be bought.</param>
/// <param name="Unpriced">Lines without a price: the sums leave them out.</param>
/// <param name="Bags">Packing list of one voice's kit.</param>
/// <param name="Notes">What a buyer or builder should know.</param>
public sealed record PartsOrder(
    string Voice,
    int Units,
    string Currency,
    ImmutableArray<OrderLine> Lines,
    ImmutableArray<ModuleCost> Modules,
    decimal VoiceCost,
    decimal ToBuy,
    int Unpriced,
    ImmutableArray<KitBag> Bags,
    ImmutableArray<string> Notes
);

/// <summary>One sort of part.</summary>
/// <param name="Kind">Word of its kind, or extra, multiple, module.</param>
/// <param name="What">Generic designation: <c>100k 0.1% 25 ppm/K</c>, <c>TL072</c>.</param>
/// <param name="Package">Package or size; empty when it is not stated.</param>
/// <param name="Step">Build step in which it is fitted.</param>
/// <param name="PerVoice">Pieces in one voice.</param>
/// <param name="Need">Pieces in all units.</param>
/// <param name="Spares">Spare pieces on top.</param>
/// <param name="Have">Pieces on the shelf; null when they are not counted.</param>
/// <param name="Missing">Pieces that the units need and the shelf lacks (all of them when it is not counted).</param>
/// <param name="Buy">Pieces to buy: need and spares less the shelf, in whole packs, and up to the next price break where
/// that costs less.</param>
/// <param name="Each">Price of one piece in this order; null when it is not known.</param>
/// <param name="Cost">Of the pieces to buy; null when it is not known.</param>
/// <param name="Source">Where it lies or is bought; empty when it is not stated.</param>
/// <param name="InStock">True when the folder's stock file has an entry for it.</param>
/// <param name="Substitutes">Others that would do, cheapest first.</param>
/// <param name="Places">Where it stands.</param>
public sealed record OrderLine(
    string Kind,
    string What,
    string Package,
    BuildStep Step,
    int PerVoice,
    int Need,
    int Spares,
    int? Have,
    int Missing,
    int Buy,
    decimal? Each,
    decimal? Cost,
    string Source,
    bool InStock,
    ImmutableArray<Substitute> Substitutes,
    ImmutableArray<PartPlaces> Places
)
{
    /// <summary>Its kind and its designation.</summary>
    public string Called => Kind == "extra" ? What : $"{Kind} {What}".TrimEnd();
}

/// <summary>Another entry of the stock whose tolerance grade is as good or better.</summary>
/// <param name="What">Its generic designation.</param>
/// <param name="Each">Price of one piece; null when it is not known.</param>
/// <param name="Have">Pieces on the shelf; null when they are not counted.</param>
/// <param name="Source">Where it lies or is bought.</param>
public sealed record Substitute(string What, decimal? Each, int? Have, string Source);

/// <summary>Where a sort of part stands: in each of so many copies of a module, these designators.</summary>
/// <param name="Module">The module's name, or <c>voice</c>.</param>
/// <param name="Copies">How many of the module one voice has.</param>
/// <param name="Count">Pieces in each copy.</param>
/// <param name="Designators">In order; empty for things without.</param>
public sealed record PartPlaces(string Module, int Copies, int Count, ImmutableArray<string> Designators)
{
    /// <summary>The same places with one entry for each module.</summary>
    internal static ImmutableArray<PartPlaces> Joined(IEnumerable<PartPlaces> places) =>
        [
            .. places.GroupBy(place => (place.Module, place.Copies)).Select(module =>
                new PartPlaces(module.Key.Module, module.Key.Copies, module.Sum(place => place.Count), [.. module.SelectMany(place => place.Designators)])),
        ];
}

/// <summary>What one module costs in parts.</summary>
/// <param name="Module">Its name.</param>
/// <param name="Copies">How many one voice has.</param>
/// <param name="Pieces">Parts of one.</param>
/// <param name="Cost">Of one, at the prices of this order.</param>
/// <param name="Unpriced">Sorts of part in it without a price.</param>
public sealed record ModuleCost(string Module, int Copies, int Pieces, decimal Cost, int Unpriced);

/// <summary>One bag of a kit: what one build step of one module takes.</summary>
/// <param name="Number">Printed on the bag, from 1.</param>
/// <param name="Module">The module's name, or <c>voice</c>.</param>
/// <param name="Copies">Such bags in one voice's kit.</param>
/// <param name="Step">The build step.</param>
/// <param name="Items">What goes in.</param>
public sealed record KitBag(int Number, string Module, int Copies, BuildStep Step, ImmutableArray<BagItem> Items);

/// <summary>One sort of part in a bag.</summary>
public sealed record BagItem(int Count, string What, string Package, ImmutableArray<string> Designators);
