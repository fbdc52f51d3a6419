using System.Data;
using System.Globalization;
using System.IO.Compression;
using System.Text;
using Consort.Engine.Design;
using Consort.Engine.Documents.Parts;
using Consort.Engine.Orders;
using ExcelDataReader;
using Xunit;

namespace Consort.Tests.Documents.Parts;

public sealed class PartsFilesTests
{
    private static readonly PartsOrder Order = Read("quartet");

    [Fact]
    public void A_workbook_reads_back_cell_by_cell_with_another_library()
    {
        // ExcelDataReader: a reader of ECMA-376 workbooks by other authors than the writer's.
        Encoding.RegisterProvider(CodePagesEncodingProvider.Instance);
        using MemoryStream stream = new(PartsBook.Write(Order));
        using IExcelDataReader reader = ExcelReaderFactory.CreateReader(stream);
        foreach (PartsSheet sheet in PartsSheet.Of(Order))
        {
            Assert.Equal(sheet.Name, reader.Name);
            Assert.True(reader.Read());
            Assert.Equal(sheet.Columns, Enumerable.Range(0, sheet.Columns.Length).Select(reader.GetString));
            foreach (IReadOnlyList<object?> row in sheet.Rows.Select(row => (IReadOnlyList<object?>)row))
            {
                Assert.True(reader.Read());
                for (int i = 0; i < row.Count; i++)
                    if (row[i] is int or decimal)
                        Assert.Equal(Convert.ToDouble(row[i], CultureInfo.InvariantCulture), reader.GetDouble(i), 1e-9);
                    else
                        Assert.Equal(row[i] as string ?? "", reader.GetValue(i)?.ToString() ?? "");
            }
            Assert.False(reader.Read());
            reader.NextResult();
        }
    }

    [Fact]
    public void A_workbook_bears_no_hour_of_writing()
    {
        using ZipArchive book = new(new MemoryStream(PartsBook.Write(Order)));
        Assert.DoesNotContain(book.Entries, entry => entry.FullName.StartsWith("docProps/core", StringComparison.Ordinal));
    }

    [Fact]
    public void A_workbook_is_the_same_to_the_byte() => Assert.Equal(PartsBook.Write(Order), PartsBook.Write(Read("quartet")));

    [Fact]
    public void A_cell_with_commas_quotes_or_line_ends_is_quoted_after_RFC_4180()
    {
        PartsSheet sheet = new("any", ["a", "b"], [["x, \"y\"", "two\nlines"], [1, 2.50m]]);
        Assert.Equal("a,b\r\n\"x, \"\"y\"\"\",\"two\nlines\"\r\n1,2.50\r\n", PartsCsv.Write(sheet));
    }

    [Fact]
    public void A_text_that_a_spreadsheet_would_take_for_a_formula_stays_a_text()
    {
        PartsSheet sheet = new("any", ["a"], [["=1+1"], ["+12 V"], ["-4.5"]]);
        Assert.Equal("a\r\n'=1+1\r\n'+12 V\r\n-4.5\r\n", PartsCsv.Write(sheet));
    }

    private static PartsOrder Read(string example)
    {
        (Voice? voice, Stock? stock, _) = VoiceFolder.Read(Path.Combine(Golden.Root, "examples", example));
        return new PartsLister(voice!, stock!, PartsLibrary.BuiltIn).List(10);
    }
}
