using System.Collections.Immutable;
using System.Globalization;
using Consort.Engine.Bench.Readings;
using Consort.Engine.Bench.Sync;
using Consort.Engine.Design;

namespace Consort.Engine.Bench.History;

/// <summary>One thing that was done with a unit or seen of it.</summary>
/// <param name="Unit">Which unit.</param>
/// <param name="Time">When; kept to the millisecond, in universal time.</param>
public abstract record LogEntry(UnitName Unit, DateTimeOffset Time);

/// <summary>Readings that were taken together.</summary>
/// <param name="Occasion">Why, in the maker's words: as built, after trimming, a year on.</param>
/// <param name="Law">What the pitch should have been then; a design that changes later leaves old errors as they were.</param>
/// <param name="Clock">The recorder's.</param>
/// <param name="Readings">In their order.</param>
public sealed record SittingEntry(UnitName Unit, DateTimeOffset Time, string? Occasion, KeptLaw Law, RecorderClock Clock, ImmutableArray<KeptReading> Readings)
    : LogEntry(Unit, Time)
{
    /// <summary>Of what was measured just now.</summary>
    public static SittingEntry Of(ReadingSet set, UnitPlace place, DateTimeOffset time, string? occasion) =>
        new(set.Unit, time, occasion, KeptLaw.Of(place.Law), set.Clock, [.. set.Readings.Select(KeptReading.Of)]);

    /// <summary>Error of one of its readings against its law, cents.</summary>
    public double Cents(KeptReading reading) => 1200 * Math.Log2(reading.Hertz / Law.IdealHertz(reading.Volts));

    /// <summary>Standard uncertainty of that, cents: frequency and control voltage, and the clock that all share
    /// (independent: JCGM 100:2008, 5.1.2).</summary>
    public double UncertaintyCents(KeptReading reading)
    {
        double own = 1200 / Math.Log(2) * reading.Uncertainty / reading.Hertz, control = 1200 * reading.VoltsUncertainty / Law.VoltsPerOctave;
        return Math.Sqrt(own * own + control * control + Clock.UncertaintyCents * Clock.UncertaintyCents);
    }
}

/// <summary>How far it held to its lead, from one recording in which one of the two was swept past the other.</summary>
/// <param name="Occasion">Why, in the maker's words.</param>
/// <param name="From">Where it comes from.</param>
/// <param name="FromCents">Lowest of its own pitch against the lead's that the sweep came to.</param>
/// <param name="ToCents">Highest.</param>
/// <param name="LeastCents">A hold narrower than that would not be told from a passing by.</param>
/// <param name="Hold">Where it held; null when it held nowhere.</param>
public sealed record SyncEntry(UnitName Unit, DateTimeOffset Time, string? Occasion, string From, double FromCents, double ToCents, double LeastCents, KeptHold? Hold)
    : LogEntry(Unit, Time)
{
    /// <summary>Of what was read just now: one for every hold, one where there was none.</summary>
    public static IEnumerable<SyncEntry> Of(ReadingSet set, DateTimeOffset time, string? occasion) =>
        from sync in set.Syncs
        from hold in sync.Holds.Select(KeptHold? (hold) => KeptHold.Of(hold)).DefaultIfEmpty()
        select new SyncEntry(set.Unit, time, occasion, sync.File, sync.FromCents, sync.ToCents, sync.LeastCents, hold);

    /// <summary>In words; edges with 95 % of their uncertainty (JCGM 100:2008, 6.3.3).</summary>
    public string Words =>
        string.Create(CultureInfo.InvariantCulture, $"{(Occasion is { } why ? $"{why}: " : "")}{(Hold is { } hold ? $"sync held {hold.Words}" : $"sync held nowhere (a hold of less than {LeastCents:0} cents would not show)")}; its own pitch ran from {FromCents:+0.0;-0.0;0.0} to {ToCents:+0.0;-0.0;0.0} cents against the lead's");
}

/// <summary>A stretch in which a follower took its lead's frequency, as the log keeps it.</summary>
/// <param name="LeadHertz">The lead's mean frequency in it.</param>
/// <param name="Flat">Its flat end.</param>
/// <param name="Sharp">Its sharp end.</param>
public sealed record KeptHold(double LeadHertz, SyncEdge Flat, SyncEdge Sharp)
{
    /// <summary>Of what was read.</summary>
    public static KeptHold Of(SyncHold hold) => new(hold.LeadHertz, hold.Flat, hold.Sharp);

    /// <summary>In words.</summary>
    public string Words => string.Create(CultureInfo.InvariantCulture, $"from {Edge(Flat)} to {Edge(Sharp)} cents at {LeadHertz:0.0} Hz");

    private static string Edge(SyncEdge edge) =>
        string.Create(CultureInfo.InvariantCulture, $"{edge.Cents:+0.0;-0.0;0.0} {(edge.IsReached ? $"± {2 * edge.Uncertainty:0.0}" : "(still held there)")}");
}

/// <summary>A trimmer that was turned.</summary>
/// <param name="Trimmer">Its designator.</param>
/// <param name="Turned">Turns, clockwise positive; null when only its place was written down.</param>
/// <param name="Position">Where it stands now, from its counter-clockwise end, 0 to 1; null when nobody said.</param>
public sealed record TrimEntry(UnitName Unit, DateTimeOffset Time, string Trimmer, double? Turned, double? Position) : LogEntry(Unit, Time)
{
    /// <summary>In words.</summary>
    public string Words =>
        Trimmer
        + (Turned is { } turns ? string.Create(CultureInfo.InvariantCulture, $" turned {Math.Abs(turns):0.##} turns {(turns < 0 ? "counter-clockwise" : "clockwise")}") : "")
        + (Position is { } place ? string.Create(CultureInfo.InvariantCulture, $" stands at {100 * place:0.#} % of its travel") : "");
}

/// <summary>Something that was wrong with it.</summary>
/// <param name="What">What was seen.</param>
/// <param name="Cause">What it was; null while nobody knows.</param>
/// <param name="Mended">True once it is.</param>
public sealed record FaultEntry(UnitName Unit, DateTimeOffset Time, string What, string? Cause, bool Mended) : LogEntry(Unit, Time);

/// <summary>Anything else worth a line.</summary>
/// <param name="Text">The line.</param>
public sealed record NoteEntry(UnitName Unit, DateTimeOffset Time, string Text) : LogEntry(Unit, Time);

/// <summary>Pitch against control voltage as a sitting was read.</summary>
/// <param name="Hertz">Frequency at the reference voltage.</param>
/// <param name="Volts">That voltage, V.</param>
/// <param name="VoltsPerOctave">V.</param>
public readonly record struct KeptLaw(double Hertz, double Volts, double VoltsPerOctave)
{
    /// <summary>A module's.</summary>
    public static KeptLaw Of(PitchSpec law) => new(law.ReferenceFrequency, law.ReferenceVoltage, law.VoltsPerOctave);

    /// <summary>The ideal frequency at a control voltage, Hz.</summary>
    public double IdealHertz(double volts) => Hertz * Math.Pow(2, (volts - Volts) / VoltsPerOctave);
}
