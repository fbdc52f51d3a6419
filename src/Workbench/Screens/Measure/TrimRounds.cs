using System.Collections.Immutable;
using System.Globalization;
using Consort.Engine.Bench.Readings;

namespace Consort.Workbench.Screens.Measure;

/// <summary>A unit's readings round by round: those of earlier rounds stay, with what was turned between them.</summary>
internal sealed class TrimRounds
{
    private ImmutableArray<UnitReading> earlier = [];
    private ImmutableDictionary<string, double> before = ImmutableDictionary<string, double>.Empty; // turns clockwise from the first round to the last

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
    public ReadingSet Told(ReadingSet held, IEnumerable<string> trimmers)
    {
        string[] all = [.. trimmers];
        return held with { Readings = [.. earlier, .. held.Readings.Select((reading, i) => reading with { Stands = all.Aggregate(reading.Stands, Stand), Place = earlier.Length + i })] };
    }

    /// <summary>Keeps what was held as a round; the next begins.</summary>
    /// <param name="held">Readings of this round.</param>
    /// <param name="trimmers">All that set pitch.</param>
    /// <param name="advised">Turns clockwise that were advised, by trimmer: what is typed until it is corrected.</param>
    public void Next(ReadingSet held, IEnumerable<string> trimmers, IReadOnlyDictionary<string, double> advised)
    {
        string[] all = [.. trimmers];
        earlier = Told(held, all).Readings;
        before = all.ToImmutableDictionary(trimmer => trimmer, trimmer => before.GetValueOrDefault(trimmer) + (Number == 1 ? 0 : Turns(trimmer) ?? 0));
        Number++;
        Stops.Clear();
        Turned.Clear();
        foreach (string trimmer in all)
            Turned[trimmer] = advised.GetValueOrDefault(trimmer).ToString("0.##", CultureInfo.InvariantCulture);
    }

    /// <summary>Forgets all rounds before.</summary>
    public void Forget()
    {
        (earlier, before, Number) = ([], ImmutableDictionary<string, double>.Empty, 1);
        Stops.Clear();
        Turned.Clear();
    }

    private double? Turns(string trimmer) =>
        double.TryParse(Turned.GetValueOrDefault(trimmer, "").Replace('−', '-'), NumberStyles.Float, CultureInfo.InvariantCulture, out double turns) && double.IsFinite(turns) ? turns : null;

    private ImmutableDictionary<string, TrimmerStand> Stand(ImmutableDictionary<string, TrimmerStand> stands, string trimmer) =>
        Stops.GetValueOrDefault(trimmer, "") is { Length: > 0 } stop ? stands.SetItem(trimmer, new(stop == "1" ? 1 : 0, 0))
        : Number > 1 ? stands.SetItem(trimmer, new(null, before.GetValueOrDefault(trimmer) + (Turns(trimmer) ?? 0)))
        : stands;
}
