using System.Collections.Immutable;
using Consort.Engine.Bench.History;
using Consort.Engine.Documents;
using Consort.Engine.Documents.Bench;
using Spectre.Console;

namespace Consort.Cli.Printing;

/// <summary>A voice's units on the terminal; times are universal.</summary>
internal static class HistoryTables
{
    /// <summary>All units, a line each.</summary>
    public static void Print(Screen screen, ImmutableArray<UnitSummary> units)
    {
        Table table = Screen.Columns(("unit", false), ("first seen", false), ("last seen", false), ("read", true), ("trims", true), ("open faults", true), ("worst, cents", true));
        foreach (UnitSummary unit in units)
            Screen.Row(table, $"{unit.Unit}", LogTime.Short(unit.First), LogTime.Short(unit.Last), $"{unit.Sittings}", $"{unit.Trims}", $"{unit.OpenFaults}",
                unit.Worst is { } worst ? $"{worst:0.00}" : "-");
        screen.Write(table);
    }

    /// <summary>One unit: what happened, then how its pitch moved.</summary>
    public static void Print(Screen screen, ImmutableArray<LogEntry> entries, UnitDrift drift)
    {
        Table table = Screen.Columns(("time", false), ("what", false), ("", false));
        foreach (LogEntry entry in entries)
        {
            (string kind, string text) = LogWords.Of(entry);
            Screen.Row(table, LogTime.Short(entry.Time), kind, text);
        }
        screen.Write(table);
        if (drift.Sittings.Length > 1)
            Drift(screen, drift);
    }

    private static void Drift(Screen screen, UnitDrift drift)
    {
        screen.Line();
        screen.Line("Since it was last trimmed or mended:");
        Table table = Screen.Columns(("time", false), ("at", true), ("mean, cents", true), ("±, 95 %", true), ("worst", true));
        foreach (SittingPitch pitch in drift.Sittings)
            Screen.Row(table, LogTime.Short(pitch.Time), pitch.Kelvin is { } kelvin ? Figures.Celsius(kelvin) : "-",
                double.IsNaN(pitch.Cents) ? "-" : Figures.SignedCents(pitch.Cents), double.IsNaN(pitch.Cents) ? "-" : $"{2 * pitch.Uncertainty:0.00}", $"{pitch.Worst:0.00}");
        screen.Write(table);
        screen.Line(LogWords.Drift(drift));
    }
}
