using System.Collections.Immutable;
using Consort.Engine.Bench.Readings;
using Consort.Engine.Design;

namespace Consort.Engine.Bench.History;

/// <summary>Entries out of a file that <c>units export</c> wrote, or another program in the same shape.</summary>
public static class LogImport
{
    /// <summary>Reads a file by its ending, .json or .csv; every mistake in one run, and then no entries.</summary>
    public static (ImmutableArray<LogEntry> Entries, ImmutableArray<InputError> Errors) Read(string file)
    {
        ErrorList errors = new();
        string name = file.Replace('\\', '/');
        ImmutableArray<LogEntry> entries = [];
        if (Path.GetExtension(file).ToLowerInvariant() is not (".json" or ".csv"))
            errors.Add(ErrorCodes.FileKind, new(name, 0, 0, 0), $"{name} is neither JSON nor a table", "give a file that units export wrote, .json or .csv");
        else if (SourceText.Read(file, name, errors) is { } source)
            entries = name.EndsWith(".json", StringComparison.OrdinalIgnoreCase) ? Json(source, errors) : Table(source, errors);
        return (errors.Mistakes > 0 ? [] : entries, errors.InOrder());
    }

    /// <summary>Those that a log does not hold yet, word for word.</summary>
    public static ImmutableArray<LogEntry> New(IEnumerable<LogEntry> entries, IEnumerable<LogEntry> there)
    {
        HashSet<string> known = [.. there.Select(LogRow.Whole)];
        return [.. entries.Where(entry => known.Add(LogRow.Whole(entry)))];
    }

    // JSON is YAML too (YAML 1.2, 1.3), and the house's reader knows each value's place.
    private static ImmutableArray<LogEntry> Json(SourceText source, ErrorList errors)
    {
        if (YamlTree.ReadMap(source, errors) is not { } map)
            return [];
        if (map.Find("entries")?.Value is not YamlList list)
        {
            errors.Add(ErrorCodes.LogEntry, map.At, "the file has no list 'entries'", "give a file that units export wrote");
            return [];
        }
        List<LogEntry> entries = [];
        foreach (YamlNode item in list.Items)
            if (item is not YamlMap one)
                errors.Add(ErrorCodes.LogEntry, item.At, $"an entry is {item.Shape}, not a map", "write it as units export does");
            else if ((Reader(one, errors).Entry(), Readings(one, errors)) is ({ } entry, { } readings)) // both: all mistakes in one run
                entries.Add(entry is SittingEntry sitting ? sitting with { Readings = readings } : entry);
        return [.. entries];
    }

    private static ImmutableArray<KeptReading> Readings(YamlMap entry, ErrorList errors) =>
        entry.Find("readings")?.Value is YamlList list ? [.. list.Items.OfType<YamlMap>().Select(one => Reader(one, errors).Reading()).OfType<KeptReading>()] : [];

    private static LogRowReader Reader(YamlMap map, ErrorList errors) =>
        new(column => map.Find(column)?.Value is YamlText text && (text.Quoted || text.Value != "null") ? (text.Value, text.At) : null, map.At, errors);

    private static ImmutableArray<LogEntry> Table(SourceText source, ErrorList errors)
    {
        List<Cell[]> rows = ValueTable.Rows(source, errors);
        if (rows.Count == 0)
        {
            errors.Add(ErrorCodes.NoReading, new(source.File, 1, 1, 1), $"{source.File} holds no row", "give a file that units export wrote");
            return [];
        }
        string[] heads = [.. rows[0].Select(cell => cell.Text)];
        foreach (Cell head in rows[0].Where(head => !LogRow.Columns.Contains(head.Text)))
            errors.Add(ErrorCodes.TableShape, head.At, $"{ErrorList.Quote(head.Text)} is no column of a history", NearName.Mend(head.Text, LogRow.Columns));
        List<LogEntry> entries = [];
        foreach (Cell[] row in rows.Skip(1))
            Add(entries, row, heads, errors);
        return [.. entries];
    }

    private static void Add(List<LogEntry> entries, Cell[] row, string[] heads, ErrorList errors)
    {
        LogRowReader reader = new(column => In(row, heads, column), row[0].At, errors);
        if (reader.Entry() is not { } entry)
            return;
        if (entry is not SittingEntry sitting)
        {
            entries.Add(entry);
            return;
        }
        KeptReading? reading = In(row, heads, "hertz") is null ? null : reader.Reading();
        if (entries.Count > 0 && entries[^1] is SittingEntry last && last with { Readings = sitting.Readings } == sitting)
            entries[^1] = reading is null ? last : last with { Readings = last.Readings.Add(reading) };
        else
            entries.Add(reading is null ? sitting : sitting with { Readings = [reading] });
    }

    private static (string Text, SourceSpan At)? In(Cell[] row, string[] heads, string column)
    {
        int place = Array.IndexOf(heads, column);
        if (place < 0 || place >= row.Length || row[place].Text.Length == 0)
            return null;
        string text = row[place].Text;
        return (text.Length > 1 && text[0] == '\'' && text[1] is '=' or '+' or '-' or '@' ? text[1..] : text, row[place].At);
    }
}
