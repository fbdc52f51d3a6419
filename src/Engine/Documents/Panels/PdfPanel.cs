using System.Globalization;
using Consort.Engine.Documents.Files;

namespace Consort.Engine.Documents.Panels;

/// <summary>A panel on paper at scale 1, with a bar to check the printer by and a table of its holes.</summary>
public static class PdfPanel
{
    private const double Margin = 14;
    private const double Top = 30;
    private const double Row = 4.6;
    private const double TableWidth = 70;

    /// <summary>The document's bytes: one page a panel, more where the table needs them.</summary>
    public static byte[] Write(IReadOnlyList<PanelDrawing> panels, string title)
    {
        using Paper paper = new(title);
        foreach (PanelDrawing panel in panels)
            Draw(paper, panel);
        return paper.Save();
    }

    /// <summary>Adds a panel's pages to a document.</summary>
    internal static void Draw(Paper paper, PanelDrawing panel)
    {
        bool isBeside = Margin + panel.Width + 8 + TableWidth + Margin <= 210;
        double width = Math.Max(210, panel.Width + (2 * Margin)), height = Math.Max(297, panel.Height + Top + Margin);
        PaperPage page = paper.Add(width, height);
        page.Text($"{panel.Name}: panel, scale 1:1, from the front", Margin, 16, 13, bold: true);
        page.Text($"{Mm(panel.Width)} by {Mm(panel.Height)} mm; print at 100 %, and check this bar of 50 mm:", Margin, 22);
        double bar = Margin + page.TextWidth($"{Mm(panel.Width)} by {Mm(panel.Height)} mm; print at 100 %, and check this bar of 50 mm:") + 3;
        page.Draw([(bar, 20), (bar, 23), (bar, 21.5), (bar + 50, 21.5), (bar + 50, 20), (bar + 50, 23)], 0.2);
        Sheet(page, panel, Margin, Top);
        if (isBeside)
            Table(paper, page, panel, Margin + panel.Width + 8, Top);
        else
            Table(paper, paper.Add(), panel, Margin, Top);
    }

    /// <summary>The panel itself, its upper left corner at a place of the page.</summary>
    internal static void Sheet(PaperPage page, PanelDrawing panel, double left, double top)
    {
        (double X, double Y) At(Spot spot) => (left + spot.X, top + panel.Height - spot.Y);

        page.Box(left, top, panel.Width, panel.Height, 0.3);
        foreach (PanelShape shape in panel.Shapes.Where(shape => shape.Layer != ShapeLayer.Body))
            page.Circle(At(shape.Middle).X, At(shape.Middle).Y, shape.Width / 2, shape.Layer == ShapeLayer.Knob ? 0.25 : 0.15, 0.5);
        foreach (PanelHole hole in panel.Holes)
        {
            (double x, double y) = At(hole.Middle);
            double r = hole.Diameter / 2;
            if (hole.Travel > 0)
                page.Box(x - r - (hole.Travel / 2), y - r, hole.Diameter + hole.Travel, hole.Diameter, 0.2, 0, r);
            else
                page.Circle(x, y, r, 0.2);
            page.Draw([(x - 1, y), (x + 1, y)], 0.1);
            page.Draw([(x, y - 1), (x, y + 1)], 0.1);
        }
        foreach (Stroke stroke in panel.Legend)
            page.Draw([.. stroke.Points.Select(At)], stroke.Width);
    }

    private static void Table(Paper paper, PaperPage page, PanelDrawing panel, double left, double top)
    {
        double y = Head(page, panel, left, top);
        foreach (PanelHole hole in panel.Holes)
        {
            if (y > page.Height - Margin)
            {
                page = paper.Add();
                y = Head(page, panel, left = Margin, Top);
            }
            page.Text(hole.Name, left, y);
            page.Text(Mm(hole.Middle.X), left + 33, y, anchor: Anchor.Right);
            page.Text(Mm(panel.Height - hole.Middle.Y), left + 48, y, anchor: Anchor.Right);
            page.Text(hole.Travel > 0 ? $"{Mm(hole.Diameter)} × {Mm(hole.Diameter + hole.Travel)}" : Mm(hole.Diameter), left + TableWidth, y, anchor: Anchor.Right);
            y += Row;
        }
    }

    private static double Head(PaperPage page, PanelDrawing panel, double left, double top)
    {
        page.Text($"Holes, mm from the left and the upper edge", left, top + 3, 8, grey: 0.25);
        page.Text("hole", left, top + 9, bold: true);
        page.Text("x", left + 33, top + 9, bold: true, anchor: Anchor.Right);
        page.Text("y", left + 48, top + 9, bold: true, anchor: Anchor.Right);
        page.Text("diameter", left + TableWidth, top + 9, bold: true, anchor: Anchor.Right);
        page.Draw([(left, top + 10.5), (left + TableWidth, top + 10.5)], 0.2);
        return top + 15;
    }

    private static string Mm(double mm) => mm.ToString("0.##", CultureInfo.InvariantCulture);
}
