using System.Collections.Immutable;
using Consort.Engine.Design;
using Consort.Engine.Documents;

namespace Consort.Engine.Bench.History;

/// <summary>Whether a limit is kept, as far as a reading can tell.</summary>
public enum Conformity
{
    /// <summary>The reading and all of its uncertainty lie within the limit.</summary>
    Within,

    /// <summary>They lie outside.</summary>
    Outside,

    /// <summary>The limit lies within the uncertainty.</summary>
    Undecided,

    /// <summary>No limit is asked there.</summary>
    NotAsked,
}

/// <summary>A reading against its limit.</summary>
/// <param name="Volts">Control voltage, V.</param>
/// <param name="Hertz">Frequency.</param>
/// <param name="IdealHertz">What it should be.</param>
/// <param name="Cents">Error, cents.</param>
/// <param name="Expanded">Twice the standard uncertainty, cents: some 95 % (JCGM 100:2008, 6.3.3).</param>
/// <param name="Kelvin">Temperature, K; null when nobody said.</param>
/// <param name="Conformity">Against the limit.</param>
public sealed record CertifiedReading(double Volts, double Hertz, double IdealHertz, double Cents, double Expanded, double? Kelvin, Conformity Conformity);

/// <summary>What is known of a unit, fit to be handed to whom it is sold.</summary>
/// <param name="Voice">The voice for which it was built.</param>
/// <param name="Title">The module's name.</param>
/// <param name="Sitting">Its last readings.</param>
/// <param name="Readings">Those against the limits.</param>
/// <param name="LimitCents">Most that pitch may be off, cents.</param>
/// <param name="Trims">Every turn that was written down, up to the readings.</param>
/// <param name="Faults">Everything that was wrong, up to the readings.</param>
/// <param name="Syncs">Holds under sync of its last sweep, up to the readings or after them.</param>
/// <param name="Changed">What was done to it after the readings: they may no longer hold.</param>
/// <param name="Unmeasured">What was not measured, in sentences.</param>
public sealed record Certificate(
    string Voice,
    string Title,
    SittingEntry Sitting,
    ImmutableArray<CertifiedReading> Readings,
    double LimitCents,
    ImmutableArray<TrimEntry> Trims,
    ImmutableArray<FaultEntry> Faults,
    ImmutableArray<SyncEntry> Syncs,
    ImmutableArray<LogEntry> Changed,
    ImmutableArray<string> Unmeasured
)
{
    private const double Coverage = 2;
    private const double SameVolts = 0.02; // V: a reading stands for an octave when it was taken there, not beside it

    /// <summary>Of the whole range that the voice asks: outside when any reading is, undecided when any is or any octave is
    /// missing.</summary>
    public Conformity Verdict =>
        Readings.Any(reading => reading.Conformity == Conformity.Outside) ? Conformity.Outside
        : IsComplete && Readings.Any(reading => reading.Conformity == Conformity.Within) && Readings.All(reading => reading.Conformity is Conformity.Within or Conformity.NotAsked) ? Conformity.Within
        : Conformity.Undecided;

    /// <summary>True when every octave that the voice asks was read.</summary>
    public bool IsComplete { get; private init; }

    /// <summary>Of a unit's entries; null when it was never read.</summary>
    /// <param name="entries">The unit's, in the order of time.</param>
    public static Certificate? Of(Voice voice, UnitPlace place, IReadOnlyList<LogEntry> entries)
    {
        if (entries.OfType<SittingEntry>().LastOrDefault(sitting => !sitting.Readings.IsEmpty) is not { } sitting)
            return null;
        Limits limits = voice.Limits;
        ImmutableArray<CertifiedReading> readings = [.. sitting.Readings.OrderBy(reading => reading.Volts).Select(reading => Certified(sitting, reading, limits))];
        double[] missing = [.. Asked(limits, sitting.Law.VoltsPerOctave).Where(volts => !readings.Any(reading => Math.Abs(reading.Volts - volts) < SameVolts))];
        ImmutableArray<SyncEntry> syncs = LastSweep(entries);
        return new(voice.Name, place.Member.Module.Name, sitting, readings, limits.TrackingCents,
            [.. entries.OfType<TrimEntry>().Where(trim => trim.Time <= sitting.Time)],
            [.. entries.OfType<FaultEntry>().Where(fault => fault.Time <= sitting.Time)],
            syncs,
            [.. entries.Where(entry => entry.Time > sitting.Time && entry is TrimEntry or FaultEntry)],
            [.. NotMeasured(sitting, limits, missing, !syncs.IsEmpty)])
        {
            IsComplete = missing.Length == 0,
        };
    }

    private static ImmutableArray<SyncEntry> LastSweep(IReadOnlyList<LogEntry> entries) =>
        entries.OfType<SyncEntry>().LastOrDefault() is { } last ? [.. entries.OfType<SyncEntry>().Where(sync => sync.Time == last.Time)] : [];

    private static IEnumerable<double> Asked(Limits limits, double octave) =>
        Enumerable.Range(0, (int)Math.Floor(limits.Octaves + 1e-9) + 1).Select(i => limits.LowestVoltage + i * octave);

    // Guarded acceptance and rejection, the guard band as wide as the expanded uncertainty (JCGM 106:2012, 8.3; from memory).
    private static CertifiedReading Certified(SittingEntry sitting, KeptReading reading, Limits limits)
    {
        double cents = sitting.Cents(reading), expanded = Coverage * sitting.UncertaintyCents(reading), size = Math.Abs(cents);
        Conformity conformity =
            !limits.Asks(reading.Volts, sitting.Law.VoltsPerOctave) ? Conformity.NotAsked
            : size + expanded <= limits.TrackingCents ? Conformity.Within
            : size - expanded > limits.TrackingCents ? Conformity.Outside
            : Conformity.Undecided;
        return new(reading.Volts, reading.Hertz, sitting.Law.IdealHertz(reading.Volts), cents, expanded, reading.Kelvin, conformity);
    }

    private static IEnumerable<string> NotMeasured(SittingEntry sitting, Limits limits, double[] missing, bool isSynced)
    {
        if (missing.Length > 0)
            yield return $"Pitch at {string.Join(", ", missing.Select(volts => $"{volts:0.###} V"))}, which the voice asks.";
        if (sitting.Readings.Any(reading => reading.Kelvin is null))
            yield return "The temperature of some readings.";
        yield return $"Pitch at other temperatures: the design asks {limits.DriftCents:0.##} cents from {Figures.Celsius(limits.ColdKelvin)} to {Figures.Celsius(limits.WarmKelvin)}.";
        if (sitting.Readings.Any(reading => reading.VoltsUncertainty == 0))
            yield return "How far the control voltages were off: they count as exact here, and 1 mV is 1.2 cents at 1 V an octave.";
        if (sitting.Clock is { IsCalibrated: false, Uncertainty: > 0 })
            yield return "The recorder's clock: it was compared with no reference, and its usual error is in the uncertainty.";
        if (sitting.Readings.All(reading => reading.VoltsPeakToPeak is null))
            yield return "Levels and waves in volts.";
        yield return isSynced ? "Modulation inputs, currents, and ageing." : "Modulation inputs, sync, currents, and ageing.";
    }
}
