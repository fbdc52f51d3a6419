using System.Text;
using Consort.Engine.Design;

namespace Consort.Engine.Bench.Readings;

/// <summary>One cell of a table and where it stands.</summary>
internal readonly record struct Cell(string Text, SourceSpan At);

/// <summary>
/// A text of rows and columns, as spreadsheets write them (RFC 4180), with commas, semicolons or tabulators between,
/// whichever the first row uses. Lines that begin with # are remarks.
/// </summary>
internal sealed class ValueTable
{
    private readonly SourceText source;
    private readonly char separator;

    private ValueTable(SourceText source)
    {
        this.source = source;
        string first = Enumerable.Range(1, source.LineCount).Select(source.Line).FirstOrDefault(line => line.Length > 0 && line[0] != '#') ?? "";
        separator = first.Contains('\t', StringComparison.Ordinal) ? '\t' : first.Contains(';', StringComparison.Ordinal) ? ';' : ',';
    }

    /// <summary>The rows that hold anything; the first names the columns. A quote that is not closed is an error.</summary>
    public static List<Cell[]> Rows(SourceText source, ErrorList errors)
    {
        errors.Knows(source);
        return new ValueTable(source).Read(errors);
    }

    private List<Cell[]> Read(ErrorList errors)
    {
        List<Cell[]> rows = [];
        string text = source.Text;
        int at = 0;
        while (at < text.Length)
        {
            if (text[at] == '#')
            {
                at = EndOfLine(at);
                at = PastEnd(at);
                continue;
            }
            List<Cell> row = [];
            bool isOpen = true;
            while (isOpen)
                (at, isOpen) = ReadCell(row, at, errors);
            if (row.Any(cell => cell.Text.Length > 0))
                rows.Add([.. row]);
        }
        return rows;
    }

    private (int Next, bool IsOpen) ReadCell(List<Cell> row, int at, ErrorList errors)
    {
        string text = source.Text;
        int start = at;
        while (at < text.Length && text[at] is ' ' or '\t' && text[at] != separator)
            at++;
        if (at < text.Length && text[at] == '"')
            return ReadQuoted(row, at, errors);
        at = start;
        while (at < text.Length && text[at] != separator && text[at] is not ('\n' or '\r'))
            at++;
        string raw = text[start..at];
        int lead = raw.Length - raw.TrimStart().Length;
        string value = raw.Trim();
        row.Add(new(value, source.Span(start + lead, start + lead + Math.Max(1, value.Length))));
        return Past(at);
    }

    private (int Next, bool IsOpen) ReadQuoted(List<Cell> row, int start, ErrorList errors)
    {
        string text = source.Text;
        StringBuilder value = new();
        int at = start + 1;
        for (; at < text.Length; at++)
        {
            if (text[at] != '"')
                value.Append(text[at]);
            else if (at + 1 < text.Length && text[at + 1] == '"')
                value.Append(text[at++]);
            else
                break;
        }
        if (at >= text.Length)
            errors.Add(ErrorCodes.TableShape, source.Span(start, start + 1), "a quote opens here and is never closed", "close it, or leave quotes out");
        row.Add(new(value.ToString().Trim(), source.Span(start, Math.Min(at + 1, text.Length))));
        at = Math.Min(at + 1, text.Length);
        while (at < text.Length && text[at] != separator && text[at] is not ('\n' or '\r'))
            at++;
        return Past(at);
    }

    private (int Next, bool IsOpen) Past(int at) =>
        at < source.Text.Length && source.Text[at] == separator ? (at + 1, true) : (PastEnd(at), false);

    private int EndOfLine(int at)
    {
        while (at < source.Text.Length && source.Text[at] is not ('\n' or '\r'))
            at++;
        return at;
    }

    private int PastEnd(int at)
    {
        string text = source.Text;
        if (at < text.Length && text[at] == '\r')
            at++;
        if (at < text.Length && text[at] == '\n')
            at++;
        return at;
    }
}
