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

    private LongWorkState<(UnitPlace Place, ReadingSet Set), UnitTrimming>? Work { get; set; }

    /// <inheritdoc/>
    protected override void Look()
    {
        base.Look();
        Work = Trimming.Work.State;
    }

    private UnitTrimming? Advice => Work is { } work && work.Asked.Place.Unit == Place?.Unit ? work.Result : null;

    /// <summary>Asked for when a round ends: what is held is kept here and begins anew there.</summary>
    [Parameter, EditorRequired]
    public EventCallback Begin { get; set; }

    private TrimRounds Rounds { get; } = new();

    private UnitName? Read { get; set; } // the unit of these rounds

    private string[] Trimmers => [.. Pitch(Place!).Select(step => step.Trimmer)];

    // By trimmer: full travel, turns.
    private Dictionary<string, double> Travels => Trimmers.ToDictionary(trimmer => trimmer, trimmer => Place!.Member.Module.Circuit.First(part => part.Name == trimmer).Number("turns"));

    private static IEnumerable<TrimStep> Pitch(UnitPlace unit) => unit.Member.Module.Trims.Where(step => step.Purpose != TrimPurpose.Other).DistinctBy(step => step.Trimmer);

    private ReadingSet? Told => Set is { } set ? Rounds.Told(set, Travels) : null;

    private bool MayAsk => Set is { Readings.Length: > 0 } set && set.Readings.Length + Rounds.Earlier >= 2 && Rounds.IsCounted(Trimmers);

    /// <inheritdoc/>
    protected override void OnParametersSet()
    {
        if (Place is not null && Place.Unit != Read)
        {
            Read = Place.Unit;
            Rounds.Forget();
        }
    }

    private Task Another()
    {
        Dictionary<string, double> advised = IsOld ? [] : Advice?.Plan.Turns.ToDictionary(turn => turn.Trimmer, turn => turn.Turns) ?? [];
        Rounds.Next(Set!, Travels, advised);
        return Begin.InvokeAsync();
    }

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
