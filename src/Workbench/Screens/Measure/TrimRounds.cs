using System.Collections.Immutable;
using System.Globalization;
using Consort.Engine.Bench.Readings;

namespace Consort.Workbench.Screens.Measure;

/// <summary>A unit's readings round by round: those of earlier rounds stay, with what was turned between them.</summary>
internal sealed class TrimRounds
{
    private ImmutableArray<UnitReading> earlier = [];
    private ImmutableDictionary<string, TrimmerStand> before = ImmutableDictionary<string, TrimmerStand>.Empty; // at the round before: the stop it last stood at, and turns clockwise since; else turns since the first round

    /// <summary>Which is being read, from 1.</summary>
    public int Number { get; private set; } = 1;

    /// <summary>Readings of the rounds before.</summary>
    public int Earlier => earlier.Length;

    /// <summary>By trimmer, 0 or 1: it is felt to stand at a stop; empty where it is not.</summary>
    public Dictionary<string, string> Stops { get; } = [];

    /// <summary>By trimmer, as it was typed: turns clockwise since the round before.</summary>
    public Dictionary<string, string> Turned { get; } = [];

    /// <summary>True when every trimmer stands at a stop or its turns are a number, or nothing was turned yet.</summary>
    public bool IsCounted(IEnumerable<string> trimmers) => Number == 1 || trimmers.All(trimmer => Stops.GetValueOrDefault(trimmer, "").Length > 0 || Turns(trimmer) is not null);

    /// <summary>All rounds' readings, the present ones with where trimmers stand now.</summary>
    /// <param name="held">Readings of this round.</param>
    /// <param name="travels">All trimmers that set pitch, with their full travel, turns.</param>
    public ReadingSet Told(ReadingSet held, IReadOnlyDictionary<string, double> travels) =>
        held with { Readings = [.. earlier, .. held.Readings.Select((reading, i) => reading with { Stands = travels.Aggregate(reading.Stands, Stand), Place = earlier.Length + i })] };

    /// <summary>Keeps what was held as a round; the next begins.</summary>
    /// <param name="held">Readings of this round.</param>
    /// <param name="travels">All trimmers that set pitch, with their full travel, turns.</param>
    /// <param name="advised">Turns clockwise that were advised, by trimmer: what is typed until it is corrected.</param>
    public void Next(ReadingSet held, IReadOnlyDictionary<string, double> travels, IReadOnlyDictionary<string, double> advised)
    {
        earlier = Told(held, travels).Readings;
        before = travels.Keys.ToImmutableDictionary(trimmer => trimmer, Now);
        Number++;
        Stops.Clear();
        Turned.Clear();
        foreach (string trimmer in travels.Keys)
            Turned[trimmer] = advised.GetValueOrDefault(trimmer).ToString("0.##", CultureInfo.InvariantCulture);
    }

    /// <summary>Forgets all rounds before.</summary>
    public void Forget()
    {
        (earlier, before, Number) = ([], ImmutableDictionary<string, TrimmerStand>.Empty, 1);
        Stops.Clear();
        Turned.Clear();
    }

    private double? Turns(string trimmer) =>
        double.TryParse(Turned.GetValueOrDefault(trimmer, "").Replace('−', '-'), NumberStyles.Float, CultureInfo.InvariantCulture, out double turns) && double.IsFinite(turns) ? turns : null;

    // At a stop a trimmer's place is known whatever was turned before, and later turns are counted from there.
    private TrimmerStand Now(string trimmer)
    {
        if (Stops.GetValueOrDefault(trimmer, "") is { Length: > 0 } stop)
            return new(stop == "1" ? 1 : 0, 0);
        TrimmerStand then = before.GetValueOrDefault(trimmer);
        return Number == 1 ? then : then with { Turned = then.Turned + (Turns(trimmer) ?? 0) };
    }

    private ImmutableDictionary<string, TrimmerStand> Stand(ImmutableDictionary<string, TrimmerStand> stands, KeyValuePair<string, double> travel) =>
        Now(travel.Key) switch
        {
            { Position: { } known } now => stands.SetItem(travel.Key, new(Math.Clamp(known + now.Turned / travel.Value, 0, 1), 0)),
            TrimmerStand now when Number > 1 => stands.SetItem(travel.Key, now),
            _ => stands,
        };
}
