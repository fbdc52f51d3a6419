using Consort.Engine.Bench.History;

namespace Consort.Engine.Documents.Bench;

/// <summary>A unit's history in the words that terminal and workbench share.</summary>
public static class LogWords
{
    /// <summary>What kind of entry it is, and what it says.</summary>
    public static (string Kind, string Text) Of(LogEntry entry) =>
        entry switch
        {
            SittingEntry sitting => ("readings", Sitting(sitting)),
            SyncEntry sync => ("sync", sync.Words),
            TrimEntry trim => ("trim", trim.Words),
            FaultEntry fault => (fault.Mended ? "mended" : "fault", fault.Cause is { } cause ? $"{fault.What}: {cause}" : fault.What),
            NoteEntry note => ("note", note.Text),
            _ => ("", ""),
        };

    private static string Sitting(SittingEntry sitting)
    {
        string occasion = sitting.Occasion is { } why ? $"{why}: " : "";
        double[] kelvins = [.. sitting.Readings.Select(reading => reading.Kelvin).OfType<double>()];
        string warmth = kelvins.Length > 0 ? $" at {Figures.Celsius(kelvins.Average())}" : "";
        return FormattableString.Invariant($"{occasion}{Figures.WithUnit(sitting.Readings.Length, "readings")}{warmth}, worst {sitting.Readings.Select(reading => Math.Abs(sitting.Cents(reading))).DefaultIfEmpty().Max():0.00} cents");
    }

    /// <summary>How its pitch moved since it was last trimmed or mended.</summary>
    public static string Drift(UnitDrift drift) =>
        drift.CentsPerYear is { } slope
            ? FormattableString.Invariant($"Drift: {Figures.SignedCents(slope)} ± {2 * drift.Uncertainty:0.00} cents a year (95 % of the readings' own uncertainty; temperature is not taken out).")
            : "Drift: not known; the sittings share no control voltage, or one moment.";
}
