using Consort.Engine.Bench.Readings;
using Consort.Engine.Design;
using Consort.Engine.Quantities;

namespace Consort.Engine.Faults;

/// <summary>Reads a table of figures: <c>what,place,reading</c>, as <c>mean,+5 V,5.01 V</c> or <c>frequency,3 V,0 Hz</c>.</summary>
internal static class FigureTable
{
    private static readonly (string Word, FigureKind Kind, Dimension Dimension)[] Kinds =
    [
        ("mean", FigureKind.Mean, Dimension.Voltage),
        ("lowest", FigureKind.Lowest, Dimension.Voltage),
        ("highest", FigureKind.Highest, Dimension.Voltage),
        ("swing", FigureKind.Swing, Dimension.Voltage),
        ("current", FigureKind.Current, Dimension.Current),
        ("frequency", FigureKind.Pitch, Dimension.Frequency),
    ];

    /// <summary>The readings; every mistake of the table is in the list.</summary>
    public static List<FigureReading> Read(SourceText source, IReadOnlyList<UnitFigure> figures, ErrorList errors)
    {
        int before = errors.Mistakes;
        List<Cell[]> rows = ValueTable.Rows(source, errors);
        List<FigureReading> readings = [];
        if (rows.Count < 2 || rows[0].Length < 3 || !rows[0].Take(3).Select(cell => cell.Text.ToLowerInvariant()).SequenceEqual(["what", "place", "reading"]))
        {
            errors.Add(ErrorCodes.TableShape, new(source.File, 1, 1, 1), $"{source.File} is no table of figures", "the first row is: what,place,reading; then one figure a row, as: mean,+5 V,5.01 V");
            return readings;
        }
        foreach (Cell[] row in rows.Skip(1).Where(row => row.Length != 3 || row[2].Text.Length > 0)) // a place not read yet
            if (One(row, figures, errors) is { } reading)
                readings.Add(reading);
        foreach (IGrouping<int, FigureReading> twice in readings.GroupBy(reading => reading.Figure).Where(group => group.Count() > 1))
            errors.Add(ErrorCodes.RepeatedKey, new(source.File, 1, 1, 1), $"{figures[twice.Key].Word} of {figures[twice.Key].Place} stands twice", "keep the one you trust");
        if (readings.Count == 0 && errors.Mistakes == before)
            errors.Add(ErrorCodes.TableShape, new(source.File, 1, 1, 1), $"{source.File} holds no reading yet", "write what was read into the third column, as: mean,+5 V,5.01 V");
        return readings;
    }

    private static FigureReading? One(Cell[] row, IReadOnlyList<UnitFigure> figures, ErrorList errors)
    {
        if (row.Length < 3)
        {
            errors.Add(ErrorCodes.TableShape, row[0].At, "a row takes three cells", "as: mean,+5 V,5.01 V");
            return null;
        }
        int before = errors.Mistakes;
        (string Word, FigureKind Kind, Dimension Dimension) kind = Kinds.FirstOrDefault(one => string.Equals(one.Word, row[0].Text, StringComparison.OrdinalIgnoreCase));
        if (kind.Word is null)
        {
            errors.Add(ErrorCodes.UnknownWord, row[0].At, $"{ErrorList.Quote(row[0].Text)} is nothing that is read", NearName.Mend(row[0].Text, [.. Kinds.Select(one => one.Word)]));
            return null;
        }
        int figure = Enumerable.Range(0, figures.Count).FirstOrDefault(i => figures[i].Kind == kind.Kind && figures[i].Place == row[1].Text, -1);
        if (figure < 0)
            errors.Add(ErrorCodes.UnknownPlace, row[1].At, $"{kind.Word}: nothing is known of {ErrorList.Quote(row[1].Text)}", NearName.Mend(row[1].Text, [.. figures.Where(one => one.Kind == kind.Kind).Select(one => one.Place)]));
        double? value = errors.Quantity(row[2].Text, row[2].At, kind.Dimension, kind.Word, bare: false);
        if (value < 0 && kind.Kind is FigureKind.Swing or FigureKind.Pitch)
            errors.Add(ErrorCodes.OutOfRange, row[2].At, $"a {kind.Word} cannot be negative", "write 0 when there is none");
        if (errors.Mistakes > before || value is null)
            return null;
        return new(figure, kind.Kind switch { FigureKind.Pitch => Math.Log2(Math.Max(UnitFigure.Silent, value.Value)), FigureKind.Current => Math.Abs(value.Value), _ => value.Value });
    }
}
