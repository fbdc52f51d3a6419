using System.Collections.Immutable;

namespace Consort.Engine.Documents.Files;

/// <summary>A column of a printed table.</summary>
/// <param name="Title">Above it.</param>
/// <param name="Width">mm.</param>
/// <param name="IsNumber">True when its cells end in line.</param>
public sealed record PaperColumn(string Title, double Width, bool IsNumber = false);

/// <summary>Text, tables and drawings that run down the pages of a document, upright A4.</summary>
/// <param name="paper">The document.</param>
public sealed class PaperFlow(Paper paper)
{
    /// <summary>Width of what is printed, mm.</summary>
    public const double Width = 174;

    private const double Left = 18;
    private const double Top = 20;
    private const double Bottom = 278;
    private const double Small = 8.5;
    private const double Leading = 0.47; // mm between base lines for each point of the letters
    private const double Gap = 3; // between columns

    private readonly List<(string Text, int Page)> headings = [];
    private PaperPage page = paper.Add();
    private double y = Top;

    /// <summary>Chapters so far, with their pages from 1.</summary>
    public IReadOnlyList<(string Text, int Page)> Headings => headings;

    /// <summary>The page that is being filled.</summary>
    public PaperPage Page => page;

    /// <summary>Base line of what comes next, mm.</summary>
    public double At => y;

    /// <summary>A chapter's title on a page of its own, for the list of contents.</summary>
    public PaperFlow Chapter(string text)
    {
        if (y > Top)
            Turn();
        headings.Add((text, paper.Pages.Count));
        y += 4;
        page.Text(text, Left, y, 16, bold: true);
        page.Draw([(Left, y + 2.5), (Left + Width, y + 2.5)], 0.3);
        y += 11;
        return this;
    }

    /// <summary>A heading that stays with what follows it.</summary>
    public PaperFlow Heading(string text)
    {
        Room(26);
        y += y > Top ? 4 : 0;
        foreach (string line in page.Wrap(text, Width, 11.5, bold: true))
            Line(line, 11.5, bold: true);
        y += 1;
        return this;
    }

    /// <summary>A paragraph.</summary>
    public PaperFlow Say(string text, double points = 9.5, bool bold = false)
    {
        foreach (string line in page.Wrap(text, Width, points, bold))
            Line(line, points, bold);
        y += 1.5;
        return this;
    }

    /// <summary>A list; each item begins with a mark or its number.</summary>
    public PaperFlow List(IEnumerable<string> items, bool isNumbered = false)
    {
        const double Indent = 7;
        int number = 0;
        foreach (string item in items)
        {
            ImmutableArray<string> lines = page.Wrap(item, Width - Indent, 9.5);
            Room(lines.Length * 9.5 * Leading);
            page.Text(isNumbered ? $"{++number}." : "–", Left, y, 9.5);
            foreach (string line in lines)
                Line(line, 9.5, indent: Indent);
            y += 1;
        }
        y += 1;
        return this;
    }

    /// <summary>What comes next begins a page where less than so much is left, mm.</summary>
    public PaperFlow Keep(double mm)
    {
        Room(mm);
        return this;
    }

    /// <summary>Room, mm.</summary>
    public PaperFlow Space(double mm)
    {
        y += mm;
        return this;
    }

    /// <summary>A table; its titles stand again on every page that it takes.</summary>
    /// <param name="columns">Their widths make up no more than the page's.</param>
    /// <param name="rows">Cells; a text too wide for its column runs over several lines.</param>
    /// <param name="least">Height of a row at least, mm: room to write in.</param>
    public PaperFlow Table(ImmutableArray<PaperColumn> columns, IEnumerable<ImmutableArray<string>> rows, double least = 0)
    {
        Room(16);
        Titles(columns);
        foreach (ImmutableArray<string> row in rows)
        {
            ImmutableArray<string>[] cells = [.. row.Select((cell, i) => page.Wrap(cell, columns[i].Width - Gap, Small))];
            double height = Math.Max(least, (cells.Max(cell => cell.Length) * Small * Leading) + 1.2);
            if (y + height > Bottom)
            {
                Turn();
                Titles(columns);
            }
            Row(columns, cells, height);
        }
        y += 3;
        return this;
    }

    /// <summary>A drawing, as large as the page's width and so much height allow, never larger than it is.</summary>
    public PaperFlow Art(LineArt art, double height = 240)
    {
        double scale = Math.Min(1, Math.Min(Width / art.Width, height / art.Height));
        Room(art.Height * scale);
        art.DrawOn(page, Left, y - 4, scale);
        y += (art.Height * scale) + 2;
        return this;
    }

    /// <summary>The next page.</summary>
    public void Turn()
    {
        page = paper.Add();
        y = Top;
    }

    private void Room(double height)
    {
        if (y + height > Bottom)
            Turn();
    }

    private void Line(string text, double points, bool bold = false, double indent = 0)
    {
        Room(points * Leading);
        page.Text(text, Left + indent, y, points, bold);
        y += points * Leading;
    }

    private void Titles(ImmutableArray<PaperColumn> columns)
    {
        double x = Left;
        ImmutableArray<string>[] titles = [.. columns.Select(column => page.Wrap(column.Title, column.Width - Gap, Small, bold: true))];
        int most = titles.Max(title => title.Length);
        for (int i = 0; i < columns.Length; x += columns[i++].Width)
            Cell(columns[i], titles[i], x, y + ((most - titles[i].Length) * Small * Leading), bold: true);
        y += most * Small * Leading;
        page.Draw([(Left, y - 2.6), (Left + columns.Sum(column => column.Width), y - 2.6)], 0.25);
        y += 1.4;
    }

    private void Row(ImmutableArray<PaperColumn> columns, ImmutableArray<string>[] cells, double height)
    {
        double x = Left;
        for (int i = 0; i < cells.Length; x += columns[i++].Width)
            Cell(columns[i], cells[i], x, y, bold: false);
        y += height;
        page.Draw([(Left, y - 3.4), (Left + columns.Sum(column => column.Width), y - 3.4)], 0.08, 0.5);
    }

    private void Cell(PaperColumn column, ImmutableArray<string> lines, double x, double at, bool bold)
    {
        foreach (string line in lines)
        {
            page.Text(line, column.IsNumber ? x + column.Width - Gap : x, at, Small, bold, column.IsNumber ? Anchor.Right : Anchor.Left);
            at += Small * Leading;
        }
    }
}
