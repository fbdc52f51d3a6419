using Consort.Engine.Documents.Files;
using Consort.Engine.Orders;
using SpreadCheetah;
using SpreadCheetah.Styling;
using SpreadCheetah.Worksheets;

namespace Consort.Engine.Documents.Parts;

/// <summary>A parts order as a workbook (xlsx, ECMA-376): one sheet a table, titles bold and held in view.</summary>
public static class PartsBook
{
    private const double WidestColumn = 60; // characters

    /// <summary>The file's bytes: the same for the same order.</summary>
    public static byte[] Write(PartsOrder order)
    {
        using MemoryStream stream = new();
        Fill(stream, order).GetAwaiter().GetResult(); // into memory: never waits
        return SteadyZip.Steady(stream.ToArray());
    }

    private static async Task Fill(Stream stream, PartsOrder order)
    {
        // Document properties bear the hour of writing, which would make every file another one.
        await using Spreadsheet book = await Spreadsheet.CreateNewAsync(stream, new SpreadCheetahOptions { DocumentProperties = null });
        Style bold = new();
        bold.Font.Bold = true;
        StyleId title = book.AddStyle(bold);
        foreach (PartsSheet sheet in PartsSheet.Of(order))
            await Add(book, title, sheet);
        await book.FinishAsync();
    }

    private static async Task Add(Spreadsheet book, StyleId title, PartsSheet sheet)
    {
        WorksheetOptions options = new() { FrozenRows = 1 };
        for (int i = 0; i < sheet.Columns.Length; i++)
            options.Column(i + 1).Width = Math.Min(WidestColumn, 2 + sheet.Rows.Select(row => $"{row[i]}".Length).Append(sheet.Columns[i].Length).Max());
        await book.StartWorksheetAsync(sheet.Name, options);
        await book.AddRowAsync([.. sheet.Columns.Select(column => new Cell(column, title))]);
        foreach (IReadOnlyList<object?> row in sheet.Rows.Select(row => (IReadOnlyList<object?>)row))
            await book.AddRowAsync([.. row.Select(CellOf)]);
    }

    private static Cell CellOf(object? value) =>
        value switch
        {
            int number => new Cell(number),
            decimal money => new Cell(money),
            _ => new Cell((string?)value),
        };
}
