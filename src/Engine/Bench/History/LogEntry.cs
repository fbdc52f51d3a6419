using System.Collections.Immutable;
using System.Globalization;
using Consort.Engine.Bench.Readings;
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
