using Consort.Engine.Bench;
using Consort.Engine.Bench.Readings;
using Consort.Engine.Fit;
using Consort.Engine.Pitch;
using Consort.Workbench.Session;

namespace Consort.Workbench.Screens.Measure;

/// <summary>What to turn on the unit at hand, for one tab. What the design says of a module is read once and kept: a unit's next
/// readings are answered at once.</summary>
/// <param name="session">Whose design it is of.</param>
public sealed class TrimWork(VoiceSession session) : IDisposable
{
    private LongWork<(UnitPlace Place, ReadingSet Set), UnitTrimming>? work;
    private ((long Revision, string Module, double Kelvin) Of, UnitModel Model)? kept;

    /// <summary>As <c>trim</c> computes it.</summary>
    public LongWork<(UnitPlace Place, ReadingSet Set), UnitTrimming> Work => work ??= new(session, Run);

    private (UnitTrimming? Result, Unproved? Failure) Run(ReadDesign design, (UnitPlace Place, ReadingSet Set) asked, IProgress<(string Stage, double Done)> progress, CancellationToken cancel)
    {
        UnitPlace place = asked.Place;
        (long, string, double) of = (design.Revision, place.Unit.Module, UnitTrimming.Bench(asked.Set));
        if (kept?.Of != of)
        {
            progress.Report(("reading the design", 0.1));
            (UnitModel? model, Unproved? failure) = UnitTrimming.ModelOf(design.Voice, design.Stock, place, asked.Set, Environment.ProcessorCount);
            if (model is null)
                return (null, failure);
            kept = (of, model);
        }
        cancel.ThrowIfCancellationRequested();
        return (UnitTrimming.Of(kept!.Value.Model, design.Voice, place, asked.Set), null);
    }

    /// <inheritdoc/>
    public void Dispose() => work?.Dispose();
}
