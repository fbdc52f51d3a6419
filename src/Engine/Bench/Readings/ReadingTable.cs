using System.Collections.Immutable;
using Consort.Engine.Design;
using Consort.Engine.Quantities;

namespace Consort.Engine.Bench.Readings;

/// <summary>Reads a table of readings: control voltage, frequency, temperature; units in the first row or in the cells.</summary>
internal static class ReadingTable
{
    /// <summary>The readings, in the order of the rows; every mistake of the table is in the list.</summary>
    /// <param name="within">Limit of how far control voltages may be off, V, where the table has no column for it.</param>
    /// <param name="kelvin">Temperature where the table has no column for it.</param>
    /// <param name="errors">Where mistakes go.</param>
    /// <param name="trimmers">Designators that may head a column.</param>
    public static List<UnitReading> Read(SourceText source, double within, double? kelvin, ErrorList errors, IReadOnlyList<string>? trimmers = null)
    {
        List<Cell[]> rows = ValueTable.Rows(source, errors);
        List<UnitReading> readings = [];
        if (rows.Count < 2)
        {
            errors.Add(ErrorCodes.NoReading, new(source.File, 1, 1, 1), $"{source.File} holds no reading",
                "a row of names, as: control voltage (V), frequency (Hz); then one reading a row");
            return readings;
        }
        if (ReadingColumns.Read(rows[0], errors, trimmers ?? []) is not { } columns)
            return readings;
        foreach (Cell[] row in rows.Skip(1))
            if (One(row, rows[0].Length, columns, within, kelvin, errors) is { } reading)
                readings.Add(reading);
        return readings;
    }

    private static UnitReading? One(Cell[] row, int width, ReadingColumns columns, double within, double? kelvin, ErrorList errors)
    {
        int before = errors.Mistakes;
        if (row.Length > width)
            errors.Add(ErrorCodes.TableShape, row[width].At, "a cell past the last named column", "name the column in the first row; numbers take a decimal point, not a comma");
        double control = Needed(row, ReadingColumn.Control, "control voltage", columns, errors);
        (double hertz, double read) = columns.Has(ReadingColumn.Frequency) ? Counted(row, columns, errors) : Tuned(row, columns, errors);
        double? uncertainty = columns.Value(row, ReadingColumn.Uncertainty, errors);
        double? own = columns.Value(row, ReadingColumn.ControlWithin, errors);
        double? warmth = columns.Value(row, ReadingColumn.Temperature, errors) ?? kelvin;
        if (uncertainty < 0 || own < 0)
            errors.Add(ErrorCodes.OutOfRange, row[0].At, "an uncertainty cannot be negative", "write its size");
        if (warmth is < 173 or > 473)
            errors.Add(ErrorCodes.OutOfRange, (columns.In(row, ReadingColumn.Temperature) ?? row[0]).At, "a temperature outside -100 °C to 200 °C", "write it in °C");
        ImmutableDictionary<string, TrimmerStand> stands = columns.Stands(row, errors);
        if (errors.Mistakes > before)
            return null;
        return new(new(control), (own ?? within) / Math.Sqrt(3), new(hertz), uncertainty ?? read, warmth, $"{row[0].At.File}:{row[0].At.Line}") { Stands = stands };
    }

    // A number's last digit leaves half its place open either way, evenly likely (JCGM 100:2008, 4.3.7).
    private static (double Hertz, double Uncertainty) Counted(Cell[] row, ReadingColumns columns, ErrorList errors)
    {
        double hertz = Needed(row, ReadingColumn.Frequency, "frequency", columns, errors);
        if (columns.In(row, ReadingColumn.Frequency) is not { } cell)
            return (double.NaN, double.NaN);
        if (hertz <= 0)
            errors.Add(ErrorCodes.OutOfRange, cell.At, "a frequency must be above 0", "leave out the row when nothing sounded");
        return (hertz, columns.Resolution(cell, ReadingColumn.Frequency) / Math.Sqrt(3));
    }

    // A tuner says a key and how many cents above it.
    private static (double Hertz, double Uncertainty) Tuned(Cell[] row, ReadingColumns columns, ErrorList errors)
    {
        double cents = Needed(row, ReadingColumn.Cents, "cents", columns, errors);
        Cell? note = columns.In(row, ReadingColumn.Note);
        if (note is null)
            errors.Add(ErrorCodes.MissingKey, row[0].At, "this row has no note", "fill the cell, or delete the row");
        if (note is not { } named || columns.In(row, ReadingColumn.Cents) is not { } cell)
            return (double.NaN, double.NaN);
        if (NoteName.Read(named.Text) is not { } key)
        {
            errors.Add(ErrorCodes.UnknownWord, named.At, $"{ErrorList.Quote(named.Text)} is no key", "write it as A4, C#3 or Bb2");
            return (double.NaN, double.NaN);
        }
        double hertz = NoteName.Hertz(key + cents / 100);
        return (hertz, hertz * Math.Log(2) / 1200 * columns.Resolution(cell, ReadingColumn.Cents) / Math.Sqrt(3));
    }

    private static double Needed(Cell[] row, ReadingColumn column, string word, ReadingColumns columns, ErrorList errors)
    {
        if (columns.In(row, column) is null)
            errors.Add(ErrorCodes.MissingKey, row[0].At, $"this row has no {word}", "fill the cell, or delete the row");
        return columns.Value(row, column, errors) ?? double.NaN;
    }
}
