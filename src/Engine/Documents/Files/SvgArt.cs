using System.Globalization;
using System.Net;
using System.Text;

namespace Consort.Engine.Documents.Files;

/// <summary>Writes a drawing as SVG 1.1.</summary>
public static class SvgArt
{
    /// <summary>The document.</summary>
    public static string Write(LineArt art)
    {
        StringBuilder text = new();
        text.Append(CultureInfo.InvariantCulture, $"<svg xmlns=\"http://www.w3.org/2000/svg\" width=\"{art.Width:0.##}mm\" height=\"{art.Height:0.##}mm\" viewBox=\"0 0 {art.Width:0.##} {art.Height:0.##}\" font-family=\"DejaVu Sans, Liberation Sans, sans-serif\">\n");
        text.Append(CultureInfo.InvariantCulture, $"<title>{WebUtility.HtmlEncode(art.Title)}</title>\n<rect width=\"{art.Width:0.##}\" height=\"{art.Height:0.##}\" fill=\"#fff\"/>\n");
        foreach (ArtShape shape in art.Shapes)
            text.Append(Element(shape)).Append('\n');
        return text.Append("</svg>\n").ToString();
    }

    private static string Element(ArtShape shape) =>
        shape switch
        {
            ArtLine line => string.Create(CultureInfo.InvariantCulture,
                $"<polyline fill=\"none\" stroke=\"{Grey(line.Grey)}\" stroke-width=\"{line.Pen:0.###}\" stroke-linecap=\"round\" stroke-linejoin=\"round\" points=\"{string.Join(' ', line.Points.Select(p => string.Create(CultureInfo.InvariantCulture, $"{p.X:0.##},{p.Y:0.##}")))}\"/>"),
            ArtBox box => string.Create(CultureInfo.InvariantCulture,
                $"<rect x=\"{box.X:0.##}\" y=\"{box.Y:0.##}\" width=\"{box.Width:0.##}\" height=\"{box.Height:0.##}\" fill=\"none\" stroke=\"#000\" stroke-width=\"{box.Pen:0.###}\"/>"),
            ArtCircle circle => string.Create(CultureInfo.InvariantCulture,
                $"<circle cx=\"{circle.X:0.##}\" cy=\"{circle.Y:0.##}\" r=\"{circle.Radius:0.##}\" fill=\"none\" stroke=\"#000\" stroke-width=\"{circle.Pen:0.###}\"/>"),
            ArtText text => string.Create(CultureInfo.InvariantCulture,
                $"<text x=\"{text.X:0.##}\" y=\"{text.Y:0.##}\" font-size=\"{text.Size:0.##}\" text-anchor=\"{Anchored(text.Anchor)}\"{(text.IsBold ? " font-weight=\"bold\"" : "")}{Turned(text)}>{WebUtility.HtmlEncode(text.Text)}</text>"),
            _ => throw new InvalidOperationException($"a shape of no known kind: {shape}"),
        };

    private static string Grey(double grey)
    {
        int level = (int)Math.Round(255 * grey);
        return $"#{level:x2}{level:x2}{level:x2}";
    }

    private static string Anchored(Anchor anchor) => anchor switch { Anchor.Middle => "middle", Anchor.Right => "end", _ => "start" };

    private static string Turned(ArtText text) =>
        text.IsUpright ? "" : string.Create(CultureInfo.InvariantCulture, $" transform=\"rotate(90 {text.X:0.##} {text.Y:0.##})\"");
}
