using System.Collections.Immutable;
using Consort.Engine.Bench;
using Consort.Engine.Bench.Readings;
using Consort.Engine.Design;
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

    // By trimmer: 0 or 1 where it is felt to stand at a stop, empty where it is not.
    private Dictionary<string, string> Stops { get; } = [];

    private static IEnumerable<TrimStep> Pitch(UnitPlace unit) => unit.Member.Module.Trims.Where(step => step.Purpose != TrimPurpose.Other).DistinctBy(step => step.Trimmer);

    private void Stop(string trimmer, string? at) => Stops[trimmer] = at ?? "";

    // The readings with the stops that are felt.
    private ReadingSet? Told =>
        Set is not { } set ? null
        : set with { Readings = [.. set.Readings.Select(reading => reading with { Stands = Felt(reading.Stands) })] };

    private ImmutableDictionary<string, TrimmerStand> Felt(ImmutableDictionary<string, TrimmerStand> stands) =>
        Pitch(Place!).Where(step => Stops.GetValueOrDefault(step.Trimmer, "").Length > 0).Aggregate(stands, (all, step) => all.SetItem(step.Trimmer, new(Stops[step.Trimmer] == "1" ? 1 : 0, 0)));

    private bool IsOld => Work?.Revision != State.Revision || Work is not { } work || Told is not { } set || !AreAlike(work.Asked.Set, set, work.Asked.Place.Law.VoltsPerOctave);

    // A note that stands still is held again and again: only what moved by more than its uncertainty is another reading.
    private static bool AreAlike(ReadingSet one, ReadingSet other, double voltsPerOctave) =>
        one.Readings.Length == other.Readings.Length
        && one.Readings.Zip(other.Readings).All(pair =>
            pair.First.Control == pair.Second.Control
            && pair.First.Stands.Count == pair.Second.Stands.Count && pair.First.Stands.All(stand => pair.Second.Stands.TryGetValue(stand.Key, out TrimmerStand there) && there == stand.Value)
            && Math.Abs(1200 * Math.Log2(pair.First.Frequency / pair.Second.Frequency)) <= Alike + 3 * (pair.First.UncertaintyCents(voltsPerOctave) + pair.Second.UncertaintyCents(voltsPerOctave)));

    private void Ask()
    {
        if (Place is { } place && Told is { } set)
            Trimming.Work.Ask((place, set));
    }
}
