using System.Collections.Immutable;
using Consort.Engine.Design;
using Consort.Engine.Quantities;

namespace Consort.Engine.Bench.Readings;

/// <summary>What a column of readings holds.</summary>
internal enum ReadingColumn
{
    /// <summary>Voltage at the pitch input.</summary>
    Control,

    /// <summary>Limit of how far that voltage may be off.</summary>
    ControlWithin,

    /// <summary>Frequency.</summary>
    Frequency,

    /// <summary>Standard uncertainty of the frequency.</summary>
    Uncertainty,

    /// <summary>A key's name, where a tuner was read.</summary>
    Note,

    /// <summary>Cents above that key.</summary>
    Cents,

    /// <summary>Temperature.</summary>
    Temperature,
}

/// <summary>The first row of a table of readings: which column holds what, and in which unit.</summary>
internal sealed class ReadingColumns
{
    private static readonly (string Word, ReadingColumn Column, Dimension Dimension)[] Words =
    [
        ("control voltage", ReadingColumn.Control, Dimension.Voltage),
        ("control within", ReadingColumn.ControlWithin, Dimension.Voltage),
        ("frequency", ReadingColumn.Frequency, Dimension.Frequency),
        ("uncertainty", ReadingColumn.Uncertainty, Dimension.Frequency),
        ("note", ReadingColumn.Note, Dimension.Ratio),
        ("cents", ReadingColumn.Cents, Dimension.Interval),
        ("temperature", ReadingColumn.Temperature, Dimension.Temperature),
    ];

    private readonly Dictionary<ReadingColumn, (int Place, string Unit)> places = [];
    private readonly Dictionary<ReadingColumn, Cell> heads = [];

    private readonly List<(string Trimmer, bool IsMove, int Place, Cell Head)> stands = [];
    private readonly IReadOnlyList<string> trimmers;

    private ReadingColumns(IReadOnlyList<string> trimmers) => this.trimmers = trimmers;

    /// <summary>Reads the row; null with errors when a column is not known, stands twice, or is missing.</summary>
    public static ReadingColumns? Read(Cell[] row, ErrorList errors, IReadOnlyList<string> trimmers)
    {
        ReadingColumns columns = new(trimmers);
        int before = errors.Mistakes;
        for (int place = 0; place < row.Length; place++)
            columns.Take(row[place], place, errors);
        bool hasPitch = columns.Has(ReadingColumn.Frequency) || (columns.Has(ReadingColumn.Note) && columns.Has(ReadingColumn.Cents));
        if (errors.Mistakes == before && (!columns.Has(ReadingColumn.Control) || !hasPitch))
            errors.Add(ErrorCodes.TableShape, row[0].At, $"the table has no column '{(hasPitch ? "control voltage" : "frequency")}'",
                "the first row names the columns, as: control voltage (V), frequency (Hz), temperature (°C)");
        return errors.Mistakes == before ? columns : null;
    }

    /// <summary>True when the table has that column.</summary>
    public bool Has(ReadingColumn column) => places.ContainsKey(column);

    /// <summary>A row's cell in that column; null when there is none or it is empty.</summary>
    public Cell? In(Cell[] row, ReadingColumn column) =>
        places.TryGetValue(column, out (int Place, string Unit) at) && at.Place < row.Length && row[at.Place].Text.Length > 0 ? row[at.Place] : null;

    /// <summary>A row's value in that column, SI units; null when there is none, with an error when it is none.</summary>
    public double? Value(Cell[] row, ReadingColumn column, ErrorList errors)
    {
        if (In(row, column) is not { } cell)
            return null;
        (string word, _, Dimension dimension) = Words.First(known => known.Column == column);
        // Cents under a head that says so need no unit.
        return errors.Quantity(WithUnit(cell.Text, places[column].Unit), cell.At, dimension, word, bare: column == ReadingColumn.Cents);
    }

    /// <summary>Half of the last digit's place, in the column's SI unit: what a number's writing leaves open.</summary>
    public double Resolution(Cell cell, ReadingColumn column)
    {
        string text = WithUnit(cell.Text, places[column].Unit);
        Dimension dimension = Words.First(known => known.Column == column).Dimension;
        int digits = text.Length - text.AsSpan().TrimStart("+-0123456789.").Length;
        string number = text[..digits];
        int point = number.IndexOf('.', StringComparison.Ordinal);
        double last = Math.Pow(10, point < 0 ? 0 : point + 1 - digits);
        bool bare = column == ReadingColumn.Cents;
        double one = Quantity.Read("1" + text[digits..], dimension, bare) ?? double.NaN, two = Quantity.Read("2" + text[digits..], dimension, bare) ?? double.NaN;
        return 0.5 * last * (two - one);
    }

    // A bare number takes the unit that stands in the column's head.
    private static string WithUnit(string text, string unit) =>
        unit.Length > 0 && text.Length > 0 && (char.IsAsciiDigit(text[^1]) || text[^1] == '.') ? $"{text} {unit}" : text;

    private void Take(Cell head, int place, ErrorList errors)
    {
        if (head.Text.Length == 0)
            return;
        (string word, string unit) = Split(head.Text);
        if (TakeStand(head, word, place, errors))
            return;
        (string Word, ReadingColumn Column, Dimension Dimension) known = Words.FirstOrDefault(known => known.Word == word);
        if (known.Word is null)
            errors.Add(ErrorCodes.UnknownKey, head.At, $"{ErrorList.Quote(word)} is no column of readings", NearName.Mend(word, [.. Words.Select(one => one.Word), .. trimmers.SelectMany(one => (string[])[one, $"{one} {Moved}"])]));
        else if (!heads.TryAdd(known.Column, head))
            errors.Add(ErrorCodes.RepeatedKey, head.At, $"the column '{word}' stands twice", "keep one of them");
        else if (unit.Length > 0 && Quantity.Read($"1 {unit}", known.Dimension) is null)
            errors.Add(ErrorCodes.OtherDimension, head.At, $"'{unit}' is no unit of {DimensionWords.Of(known.Dimension).Name}", $"as {word} ({DimensionWords.Of(known.Dimension).Unit})");
        else
            places[known.Column] = (place, unit);
    }

    private const string Moved = "turned";
    private const double MostTurns = 100;

    // RV1 is a position, RV1 turned are turns clockwise since the first reading.
    private bool TakeStand(Cell head, string word, int place, ErrorList errors)
    {
        bool isMove = word.EndsWith($" {Moved}", StringComparison.Ordinal);
        string name = isMove ? word[..^(Moved.Length + 1)].TrimEnd() : word;
        if (trimmers.FirstOrDefault(one => string.Equals(one, name, StringComparison.OrdinalIgnoreCase)) is not { } trimmer)
            return false;
        if (stands.Any(other => other.Trimmer == trimmer))
            errors.Add(ErrorCodes.RepeatedKey, head.At, $"{trimmer} stands twice", "keep its position or its turns");
        else
            stands.Add((trimmer, isMove, place, head));
        return true;
    }

    /// <summary>Where trimmers stood at a row, with errors for cells that cannot be read.</summary>
    public ImmutableDictionary<string, TrimmerStand> Stands(Cell[] row, ErrorList errors)
    {
        ImmutableDictionary<string, TrimmerStand>.Builder all = ImmutableDictionary.CreateBuilder<string, TrimmerStand>();
        foreach ((string trimmer, bool isMove, int place, Cell head) in stands)
        {
            if (place >= row.Length || row[place].Text.Length == 0)
                continue;
            Cell cell = row[place];
            string unit = Split(head.Text).Unit;
            if (isMove && double.TryParse(cell.Text, out double turns) && Math.Abs(turns) <= MostTurns)
                all[trimmer] = new(null, turns);
            else if (isMove)
                errors.Add(ErrorCodes.OutOfRange, cell.At, $"{ErrorList.Quote(cell.Text)} is no count of turns", "write turns clockwise since the first reading, as 1.5 or -0.25");
            else if (errors.Quantity(WithUnit(cell.Text, unit), cell.At, Dimension.Ratio, trimmer, bare: true) is { } position)
            {
                if (position is >= 0 and <= 1)
                    all[trimmer] = new(position, 0);
                else
                    errors.Add(ErrorCodes.OutOfRange, cell.At, $"{trimmer} cannot stand at {ErrorList.Quote(cell.Text)}", "a position is 0 % (counter-clockwise end) to 100 %");
            }
        }
        return all.ToImmutable();
    }

    private static (string Word, string Unit) Split(string head)
    {
        int open = head.AsSpan().IndexOfAny('(', '[');
        return open < 0
            ? (head.Trim().ToLowerInvariant(), "")
            : (head[..open].Trim().ToLowerInvariant(), head[(open + 1)..].TrimEnd(' ', ')', ']').Trim());
    }
}
