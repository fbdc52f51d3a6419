using System.Collections.Immutable;
using Consort.Engine.Circuit;
using Consort.Engine.Design;
using Consort.Engine.Documents.Panels;
using Consort.Engine.Expected;
using Consort.Engine.Orders;
using Consort.Engine.Pitch;
using Consort.Engine.Planning;

namespace Consort.Engine.Documents.Packs;

/// <summary>Works out all that a pack says.</summary>
/// <param name="stock">The shelf.</param>
/// <param name="library">Where packages of models stand.</param>
/// <param name="threads">How many may work; the result does not depend on it.</param>
public sealed class PackMaker(Stock stock, PartsLibrary library, int threads)
{
    /// <summary>Parts, expected readings, trims, places; or why there are none.</summary>
    public (PackContent? Content, Unproved? Failure) Make(Voice voice, PanelSet panels, IProgress<(string Stage, double Done)>? progress = null, CancellationToken cancel = default)
    {
        progress?.Report(("listing parts", 0));
        PartsOrder order = new PartsLister(voice, stock, library).List(1);
        progress?.Report(("powering up", 0.05));
        (ImmutableArray<ExpectedUnit> units, SolveFailure? failure) = new ExpectedReadings(voice, stock) { Threads = threads }.All(cancel);
        if (failure is not null)
            return (null, Because(failure));
        cancel.ThrowIfCancellationRequested();
        progress?.Report(("trimming", 0.5));
        (ImmutableArray<TrimTable> trims, failure) = TrimTable.All(voice, threads);
        if (failure is not null)
            return (null, Because(failure));
        progress?.Report(("drawing", 0.9));
        return (new(voice, order, panels, units, trims, RowLayout.Of(voice, stock)), null);
    }

    private static Unproved Because(SolveFailure failure) => new(failure.ToString(), "look at that net with 'consort solve' on the module's circuit");
}
