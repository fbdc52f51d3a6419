using System.Collections.Immutable;
using PdfSharp.Drawing;
using PdfSharp.Pdf;

namespace Consort.Engine.Documents.Files;

/// <summary>Where a text hangs on its place.</summary>
public enum Anchor
{
    /// <summary>It begins there.</summary>
    Left,
    /// <summary>Its middle stands there.</summary>
    Middle,
    /// <summary>It ends there.</summary>
    Right,
}

/// <summary>One page: places in mm from the upper left corner, sizes of letters in points, black on white.</summary>
public sealed class PaperPage : IDisposable
{
    private const double PointsPerMm = 72 / 25.4;

    private readonly XGraphics graphics;

    internal PaperPage(PdfPage page, double width, double height)
    {
        graphics = XGraphics.FromPdfPage(page);
        graphics.ScaleTransform(PointsPerMm);
        (Width, Height) = (width, height);
    }

    /// <summary>mm.</summary>
    public double Width { get; }

    /// <summary>mm.</summary>
    public double Height { get; }

    /// <summary>Lines through points, with a round pen.</summary>
    /// <param name="grey">0 black to 1 white.</param>
    public void Draw(IReadOnlyList<(double X, double Y)> points, double pen, double grey = 0)
    {
        if (points.Count < 2)
            return;
        XPen line = Pen(pen, grey);
        graphics.DrawLines(line, [.. points.Select(point => new XPoint(point.X, point.Y))]);
    }

    /// <summary>A circle.</summary>
    public void Circle(double x, double y, double radius, double pen, double grey = 0) => graphics.DrawEllipse(Pen(pen, grey), x - radius, y - radius, 2 * radius, 2 * radius);

    /// <summary>A rectangle.</summary>
    /// <param name="corner">Radius of its corners.</param>
    public void Box(double x, double y, double width, double height, double pen, double grey = 0, double corner = 0)
    {
        if (corner > 0)
            graphics.DrawRoundedRectangle(Pen(pen, grey), x, y, width, height, 2 * corner, 2 * corner);
        else
            graphics.DrawRectangle(Pen(pen, grey), x, y, width, height);
    }

    /// <summary>A filled rectangle.</summary>
    public void Fill(double x, double y, double width, double height, double grey) => graphics.DrawRectangle(new XSolidBrush(Grey(grey)), x, y, width, height);

    /// <summary>A line of text whose base line stands at y.</summary>
    /// <param name="points">Size of the letters.</param>
    public void Text(string text, double x, double y, double points = 9, bool bold = false, Anchor anchor = Anchor.Left, double grey = 0)
    {
        text = Minus.Set(text);
        double left = anchor switch { Anchor.Middle => x - (TextWidth(text, points, bold) / 2), Anchor.Right => x - TextWidth(text, points, bold), _ => x };
        graphics.DrawString(text, Font(points, bold), new XSolidBrush(Grey(grey)), left, y);
    }

    /// <summary>A text turned a quarter clockwise about its beginning, to be read from above downward.</summary>
    public void TurnedText(string text, double x, double y, double points = 9)
    {
        XGraphicsState before = graphics.Save();
        graphics.RotateAtTransform(90, new XPoint(x, y));
        graphics.DrawString(Minus.Set(text), Font(points, false), XBrushes.Black, x, y);
        graphics.Restore(before);
    }

    /// <summary>Width of a text, mm.</summary>
    public double TextWidth(string text, double points = 9, bool bold = false) => graphics.MeasureString(text, Font(points, bold)).Width;

    /// <summary>A text in lines of at most that width, mm, broken between words; a word that is too long for a line is
    /// broken where the line ends. A line break in it stays.</summary>
    public ImmutableArray<string> Wrap(string text, double width, double points = 9, bool bold = false) =>
        [.. Minus.Set(text).Split('\n').SelectMany(part => Lines(part, width, points, bold))];

    private ImmutableArray<string> Lines(string text, double width, double points, bool bold)
    {
        ImmutableArray<string>.Builder lines = ImmutableArray.CreateBuilder<string>();
        string line = "";
        foreach (string word in text.Split(' ', StringSplitOptions.RemoveEmptyEntries).SelectMany(word => Broken(word, width, points, bold)))
            if (line.Length == 0)
                line = word;
            else if (TextWidth($"{line} {word}", points, bold) <= width)
                line = $"{line} {word}";
            else
            {
                lines.Add(line);
                line = word;
            }
        if (line.Length > 0 || lines.Count == 0)
            lines.Add(line);
        return lines.ToImmutable();
    }

    /// <inheritdoc/>
    public void Dispose() => graphics.Dispose();

    private IEnumerable<string> Broken(string word, double width, double points, bool bold)
    {
        while (word.Length > 1 && TextWidth(word, points, bold) > width)
        {
            int fits = word.Length - 1;
            while (fits > 1 && TextWidth(word[..fits], points, bold) > width)
                fits--;
            yield return word[..fits];
            word = word[fits..];
        }
        yield return word;
    }

    // The page is scaled to millimetres, so a font's size is, too.
    private static XFont Font(double points, bool bold) => new(PaperFonts.Family, points / PointsPerMm, bold ? XFontStyleEx.Bold : XFontStyleEx.Regular);

    private static XPen Pen(double width, double grey) => new(Grey(grey), width) { LineCap = XLineCap.Round, LineJoin = XLineJoin.Round };

    private static XColor Grey(double grey) => XColor.FromGrayScale(grey);
}
