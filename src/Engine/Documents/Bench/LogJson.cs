using System.Globalization;
using Consort.Engine.Bench.History;

namespace Consort.Engine.Documents.Bench;

/// <summary>A history as JSON, in the shape that docs/json.md describes; <see cref="LogImport"/> reads it back.</summary>
public static class LogJson
{
    /// <summary>Changes when a name is removed or its meaning changes.</summary>
    public const int Version = 1;

    /// <summary>The document.</summary>
    public static string Write(IEnumerable<LogEntry> entries) =>
        JsonText.Write(json => json.Text("shape", "consort history").Number("version", Version).List("entries", entries, entry => Entry(json, entry)));

    /// <summary>One unit: its entries, and how its pitch moved.</summary>
    public static string Write(IEnumerable<LogEntry> entries, UnitDrift drift) =>
        JsonText.Write(json =>
        {
            json.Text("shape", "consort unit").Number("version", Version).List("entries", entries, entry => Entry(json, entry));
            json.Object("drift", () => json
                .List("sittings", drift.Sittings, pitch => json
                    .Text("time", LogTime.Text(pitch.Time)).Text("occasion", pitch.Occasion).Number("kelvin", pitch.Kelvin).Number("readingCount", pitch.Readings)
                    .Number("meanCents", pitch.Cents).Number("meanUncertaintyCents", pitch.Uncertainty).Number("worstCents", pitch.Worst))
                .Numbers("commonVolts", drift.CommonVolts).Number("centsPerYear", drift.CentsPerYear).Number("centsPerYearUncertainty", drift.Uncertainty));
        });

    private static void Entry(JsonText json, LogEntry entry)
    {
        foreach (string column in LogRow.Heads)
            json.Text(column, LogRow.Cell(entry, column));
        if (entry is SittingEntry sitting)
        {
            foreach (string column in LogRow.OfSitting)
                Value(json, column, LogRow.Cell(entry, column));
            json.List("readings", sitting.Readings, reading =>
            {
                foreach (string column in LogRow.OfReading)
                    Value(json, column, LogRow.Cell(reading, column));
            });
        }
        else
            foreach (string column in LogRow.Beside)
                if (LogRow.Cell(entry, column) is { } text)
                    Value(json, column, text);
    }

    private static void Value(JsonText json, string column, string? text)
    {
        if (column is "occasion" or "from" or "waveShape" or "stands" or "trimmer" or "text" or "cause")
            json.Text(column, text);
        else if (column is "clockCalibrated" or "mended" or "flatReached" or "sharpReached")
            json.Flag(column, text == "true");
        else
            json.Number(column, text is null ? null : double.Parse(text, CultureInfo.InvariantCulture));
    }
}
