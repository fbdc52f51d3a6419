using System.Text;
using Consort.Engine.Bench.History;

namespace Consort.Engine.Documents.Bench;

/// <summary>A history as one table after RFC 4180, a row for each reading, trim, fault and note; <see cref="LogImport"/> reads it
/// back.</summary>
public static class LogCsv
{
    /// <summary>The text.</summary>
    public static string Write(IEnumerable<LogEntry> entries)
    {
        StringBuilder text = new();
        text.AppendJoin(',', LogRow.Columns).Append("\r\n");
        foreach (LogEntry entry in entries)
            if (entry is SittingEntry { Readings.IsEmpty: false } sitting)
                foreach (KeptReading reading in sitting.Readings)
                    Line(text, entry, reading);
            else
                Line(text, entry, null);
        return text.ToString();
    }

    private static void Line(StringBuilder text, LogEntry entry, KeptReading? reading) =>
        text.AppendJoin(',', LogRow.Columns.Select(column => Cell(LogRow.Cell(entry, column) ?? (reading is null ? null : LogRow.Cell(reading, column)) ?? "")))
            .Append("\r\n");

    // A spreadsheet takes a text that begins with one of these for a formula; numbers may.
    private static string Cell(string text)
    {
        bool isNumber = double.TryParse(text, System.Globalization.NumberStyles.Float, System.Globalization.CultureInfo.InvariantCulture, out _);
        if (text.Length > 1 && text[0] is '=' or '+' or '-' or '@' && !isNumber)
            text = "'" + text;
        return text.AsSpan().ContainsAny(",\"\r\n") ? $"\"{text.Replace("\"", "\"\"", StringComparison.Ordinal)}\"" : text;
    }
}
