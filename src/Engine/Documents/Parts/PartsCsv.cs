using System.Globalization;
using System.Text;

namespace Consort.Engine.Documents.Parts;

/// <summary>A table as CSV after RFC 4180: commas, lines ended by CR LF, quotes where a cell needs them; UTF-8.</summary>
public static class PartsCsv
{
    /// <summary>The text.</summary>
    public static string Write(PartsSheet sheet)
    {
        StringBuilder text = new();
        Line(text, sheet.Columns);
        foreach (IEnumerable<object?> row in sheet.Rows)
            Line(text, row);
        return text.ToString();
    }

    private static void Line(StringBuilder text, IEnumerable<object?> cells) =>
        text.AppendJoin(',', cells.Select(cell => Cell(Convert.ToString(cell, CultureInfo.InvariantCulture) ?? ""))).Append("\r\n");

    // A spreadsheet takes a text that begins with one of these for a formula: a quote before it keeps it a text.
    private static string Cell(string text)
    {
        if (text.Length > 1 && text[0] is '=' or '+' or '-' or '@' && !decimal.TryParse(text, NumberStyles.Number, CultureInfo.InvariantCulture, out _))
            text = "'" + text;
        return text.AsSpan().ContainsAny(",\"\r\n") ? $"\"{text.Replace("\"", "\"\"", StringComparison.Ordinal)}\"" : text;
    }
}
