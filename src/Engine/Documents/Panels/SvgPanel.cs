using System.Globalization;
using System.Net;
using System.Text;

namespace Consort.Engine.Documents.Panels;

/// <summary>A panel as SVG 1.1 at scale, 1 unit a millimetre: sheet, holes with their middles, legends; nuts, knobs and bodies
/// in thin lines. Lines and greys only: it prints in black and white.</summary>
public static class SvgPanel
{
    private const double Margin = 3; // mm around the sheet

    /// <summary>The document.</summary>
    public static string Write(PanelDrawing panel)
    {
        StringBuilder svg = new();
        double wide = panel.Width + (2 * Margin), tall = panel.Height + (2 * Margin);
        svg.Append(CultureInfo.InvariantCulture, $"<svg xmlns=\"http://www.w3.org/2000/svg\" width=\"{wide:0.###}mm\" height=\"{tall:0.###}mm\" viewBox=\"{-Margin:0.###} {-Margin:0.###} {wide:0.###} {tall:0.###}\">\n");
        svg.Append(CultureInfo.InvariantCulture, $"<title>{WebUtility.HtmlEncode(panel.Name)}: panel {panel.Width:0.##} by {panel.Height:0.##} mm, seen from the front</title>\n");
        svg.Append(CultureInfo.InvariantCulture, $"<rect x=\"0\" y=\"0\" width=\"{panel.Width:0.###}\" height=\"{panel.Height:0.###}\" fill=\"#fff\" stroke=\"#000\" stroke-width=\"0.3\"/>\n");
        Group(svg, "bodies, behind", "#888", 0.15, "1 0.8", () => Shapes(svg, panel, ShapeLayer.Body));
        Group(svg, "knobs", "#888", 0.25, null, () => Shapes(svg, panel, ShapeLayer.Knob));
        Group(svg, "nuts", "#888", 0.15, null, () => Shapes(svg, panel, ShapeLayer.Nut));
        Group(svg, "holes", "#000", 0.2, null, () => Holes(svg, panel));
        Group(svg, "legend", "#000", 0.2, null, () => Legend(svg, panel));
        return svg.Append("</svg>\n").ToString();

        double Down(double y) => panel.Height - y;

        void Shapes(StringBuilder to, PanelDrawing from, ShapeLayer layer)
        {
            foreach (PanelShape shape in from.Shapes.Where(shape => shape.Layer == layer))
                if (shape.Height > 0)
                    to.Append(CultureInfo.InvariantCulture, $"<rect x=\"{shape.Middle.X - (shape.Width / 2):0.###}\" y=\"{Down(shape.Middle.Y) - (shape.Height / 2):0.###}\" width=\"{shape.Width:0.###}\" height=\"{shape.Height:0.###}\"/>\n");
                else
                    to.Append(CultureInfo.InvariantCulture, $"<circle cx=\"{shape.Middle.X:0.###}\" cy=\"{Down(shape.Middle.Y):0.###}\" r=\"{shape.Width / 2:0.####}\"/>\n");
        }

        void Holes(StringBuilder to, PanelDrawing from)
        {
            foreach (PanelHole hole in from.Holes)
            {
                double r = hole.Diameter / 2, y = Down(hole.Middle.Y);
                to.Append(CultureInfo.InvariantCulture, $"<rect x=\"{hole.From.X - r:0.####}\" y=\"{y - r:0.####}\" width=\"{hole.Diameter + hole.Travel:0.####}\" height=\"{hole.Diameter:0.####}\" rx=\"{r:0.####}\"><title>{WebUtility.HtmlEncode(hole.Name)}</title></rect>\n");
                to.Append(CultureInfo.InvariantCulture, $"<path d=\"M{hole.Middle.X - 1:0.###} {y:0.###}h2M{hole.Middle.X:0.###} {y - 1:0.###}v2\" stroke-width=\"0.1\"/>\n");
            }
        }

        void Legend(StringBuilder to, PanelDrawing from)
        {
            foreach (IGrouping<double, Stroke> pen in from.Legend.GroupBy(stroke => stroke.Width))
            {
                to.Append(CultureInfo.InvariantCulture, $"<path stroke-width=\"{pen.Key:0.###}\" stroke-linecap=\"round\" stroke-linejoin=\"round\" d=\"");
                foreach (Stroke stroke in pen)
                    for (int i = 0; i < stroke.Points.Length; i++)
                        to.Append(CultureInfo.InvariantCulture, $"{(i == 0 ? 'M' : 'L')}{stroke.Points[i].X:0.###} {Down(stroke.Points[i].Y):0.###}");
                to.Append("\"/>\n");
            }
        }
    }

    private static void Group(StringBuilder svg, string name, string colour, double width, string? dashes, Action content)
    {
        svg.Append(CultureInfo.InvariantCulture, $"<g fill=\"none\" stroke=\"{colour}\" stroke-width=\"{width}\"{(dashes is null ? "" : $" stroke-dasharray=\"{dashes}\"")}>\n<desc>{name}</desc>\n");
        content();
        svg.Append("</g>\n");
    }
}
