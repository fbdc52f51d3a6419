using System.Collections.Immutable;

namespace Consort.Engine.Documents.Files;

/// <summary>A drawing in black lines on white, 1 unit a millimetre, y downward: kept as shapes, written as SVG or drawn on a
/// page.</summary>
public sealed class LineArt(string title, double width, double height)
{
    private readonly List<ArtShape> shapes = [];

    /// <summary>What it shows.</summary>
    public string Title { get; } = title;

    /// <summary>mm.</summary>
    public double Width { get; } = width;

    /// <summary>mm.</summary>
    public double Height { get; } = height;

    /// <summary>Everything on it, the lowest first.</summary>
    public IReadOnlyList<ArtShape> Shapes => shapes;

    /// <summary>A straight or bent line.</summary>
    /// <param name="grey">0 black to 1 white.</param>
    public LineArt Line(double pen, double grey, params ImmutableArray<(double X, double Y)> points) => Add(new ArtLine(points, pen, grey));

    /// <summary>A rectangle, white inside.</summary>
    public LineArt Box(double x, double y, double width, double height, double pen) => Add(new ArtBox(x, y, width, height, pen));

    /// <summary>A circle.</summary>
    public LineArt Circle(double x, double y, double radius, double pen) => Add(new ArtCircle(x, y, radius, pen));

    /// <summary>A text on its base line.</summary>
    /// <param name="size">Height of the letters' body, mm.</param>
    /// <param name="isUpright">False: turned a quarter clockwise, to be read from above downward.</param>
    public LineArt Text(string text, double x, double y, double size, Anchor anchor = Anchor.Left, bool bold = false, bool isUpright = true) =>
        text.Length == 0 ? this : Add(new ArtText(Minus.Set(text), x, y, size, anchor, bold, isUpright));

    /// <summary>Draws it on a page.</summary>
    /// <param name="left">Of its upper left corner, mm.</param>
    /// <param name="top">The same.</param>
    /// <param name="scale">1 for its own size.</param>
    public void DrawOn(PaperPage page, double left, double top, double scale)
    {
        foreach (ArtShape shape in shapes)
            shape.DrawOn(page, left, top, scale);
    }

    private LineArt Add(ArtShape shape)
    {
        shapes.Add(shape);
        return this;
    }
}

/// <summary>One shape of a drawing, mm.</summary>
public abstract record ArtShape
{
    private protected const double PointsPerMm = 72 / 25.4;

    internal abstract void DrawOn(PaperPage page, double left, double top, double scale);
}

/// <summary>A line.</summary>
public sealed record ArtLine(ImmutableArray<(double X, double Y)> Points, double Pen, double Grey) : ArtShape
{
    internal override void DrawOn(PaperPage page, double left, double top, double scale) =>
        page.Draw([.. Points.Select(point => (left + (scale * point.X), top + (scale * point.Y)))], scale * Pen, Grey);
}

/// <summary>A rectangle.</summary>
public sealed record ArtBox(double X, double Y, double Width, double Height, double Pen) : ArtShape
{
    internal override void DrawOn(PaperPage page, double left, double top, double scale) =>
        page.Box(left + (scale * X), top + (scale * Y), scale * Width, scale * Height, scale * Pen);
}

/// <summary>A circle.</summary>
public sealed record ArtCircle(double X, double Y, double Radius, double Pen) : ArtShape
{
    internal override void DrawOn(PaperPage page, double left, double top, double scale) =>
        page.Circle(left + (scale * X), top + (scale * Y), scale * Radius, scale * Pen);
}

/// <summary>A text.</summary>
public sealed record ArtText(string Text, double X, double Y, double Size, Anchor Anchor, bool IsBold, bool IsUpright) : ArtShape
{
    internal override void DrawOn(PaperPage page, double left, double top, double scale)
    {
        (double x, double y, double points) = (left + (scale * X), top + (scale * Y), scale * Size * PointsPerMm);
        if (IsUpright)
            page.Text(Text, x, y, points, IsBold, Anchor);
        else
            page.TurnedText(Text, x, y, points);
    }
}
