using System.Collections.Immutable;
using Consort.Engine.Design;
using Consort.Engine.Documents.Panels;
using Consort.Engine.Expected;
using Consort.Engine.Orders;
using Consort.Engine.Planning;

namespace Consort.Engine.Documents.Packs;

/// <summary>Everything that a pack says, computed before a page is drawn.</summary>
/// <param name="Voice">The voice.</param>
/// <param name="Order">Parts of one.</param>
/// <param name="Panels">Panels that have places.</param>
/// <param name="Units">Expected readings, by module.</param>
/// <param name="Trims">By oscillator.</param>
/// <param name="Places">Where everything stands in the row.</param>
public sealed record PackContent(
    Voice Voice,
    PartsOrder Order,
    PanelSet Panels,
    ImmutableArray<ExpectedUnit> Units,
    ImmutableArray<TrimTable> Trims,
    ImmutableArray<RowPlace> Places
);
