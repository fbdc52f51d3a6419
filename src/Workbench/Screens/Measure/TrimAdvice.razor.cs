using Consort.Engine.Bench;
using Consort.Engine.Bench.Readings;
using Consort.Engine.Fit;
using Consort.Workbench.Session;
using Microsoft.AspNetCore.Components;

namespace Consort.Workbench.Screens.Measure;

/// <summary>Which trimmer to turn on the unit at hand, which way, how far; and whether it meets the design.</summary>
public sealed partial class TrimAdvice
{
    private const double Alike = 0.1; // cents: less is no turn of a trimmer

    [Inject]
    private TrimWork Trimming { get; set; } = null!;

    /// <summary>The unit; null while its serial makes none.</summary>
    [Parameter, EditorRequired]
    public UnitPlace? Place { get; set; }

    /// <summary>What is held of it; null while there is no unit.</summary>
    [Parameter, EditorRequired]
    public ReadingSet? Set { get; set; }

    private LongWorkState<(UnitPlace Place, ReadingSet Set), UnitTrimming>? Work => Trimming.Work.State;

    private UnitTrimming? Advice => Work is { } work && work.Asked.Place.Unit == Place?.Unit ? work.Result : null;

    private bool IsOld => Work?.Revision != State.Revision || Work is not { } work || Set is not { } set || !AreAlike(work.Asked.Set, set, work.Asked.Place.Law.VoltsPerOctave);

    // A note that stands still is held again and again: only what moved by more than its uncertainty is another reading.
    private static bool AreAlike(ReadingSet one, ReadingSet other, double voltsPerOctave) =>
        one.Readings.Length == other.Readings.Length
        && one.Readings.Zip(other.Readings).All(pair =>
            pair.First.Control == pair.Second.Control
            && Math.Abs(1200 * Math.Log2(pair.First.Frequency / pair.Second.Frequency)) <= Alike + 3 * (pair.First.UncertaintyCents(voltsPerOctave) + pair.Second.UncertaintyCents(voltsPerOctave)));

    private void Ask()
    {
        if (Place is { } place && Set is { } set)
            Trimming.Work.Ask((place, set));
    }
}
