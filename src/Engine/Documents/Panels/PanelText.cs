using System.Collections.Immutable;
using Consort.Engine.Design;

namespace Consort.Engine.Documents.Panels;

/// <summary>One printed text with the box that it fills, mm, y upward.</summary>
/// <param name="Owner">Designator of the part that it belongs to; empty for the title.</param>
/// <param name="Text">The text.</param>
/// <param name="X">Of its middle.</param>
/// <param name="Baseline">Of its base line.</param>
/// <param name="Height">Of capitals.</param>
/// <param name="IsFramed">True for outputs: a frame tells them from inputs, in print as on a dark stage.</param>
/// <param name="At">Where it stands in the file.</param>
internal sealed record PanelText(string Owner, string Text, double X, double Baseline, double Height, bool IsFramed, SourceSpan At)
{
    private const double Descent = 2.0 / 6; // of g, j, p, q, y, as a share of the height of capitals
    private const double FrameRoom = 0.7; // mm between letters and frame

    private double Room => (StrokeFont.StrokeWidth(Height) / 2) + (IsFramed ? FrameRoom + StrokeFont.StrokeWidth(Height) : 0);

    /// <summary>Left edge of all ink.</summary>
    public double Left => X - (StrokeFont.Width(Text, Height) / 2) - (IsFramed ? FrameRoom + StrokeFont.StrokeWidth(Height) : 0);

    /// <summary>Right edge of all ink.</summary>
    public double Right => (2 * X) - Left;

    /// <summary>Lower edge of all ink, room for a descender always kept: neighbours share a base line.</summary>
    public double Bottom => Baseline - (Descent * Height) - Room;

    /// <summary>Upper edge of all ink.</summary>
    public double Top => Baseline + Height + Room;

    /// <summary>Distance of a point from the box; 0 inside.</summary>
    public double DistanceTo(Spot spot) =>
        Math.Sqrt(Square(Math.Max(0, Math.Max(Left - spot.X, spot.X - Right))) + Square(Math.Max(0, Math.Max(Bottom - spot.Y, spot.Y - Top))));

    /// <summary>True when two boxes share ground.</summary>
    public bool Meets(PanelText other) => Left < other.Right && other.Left < Right && Bottom < other.Top && other.Bottom < Top;

    /// <summary>Letters, and the frame around them.</summary>
    public IEnumerable<Stroke> Strokes()
    {
        ImmutableArray<Stroke> letters = StrokeFont.Draw(Text, X, Baseline, Height);
        if (!IsFramed)
            return letters;
        double half = StrokeFont.StrokeWidth(Height) / 2;
        (double left, double right, double bottom, double top) = (Left + half, Right - half, Bottom + half, Top - half);
        double cut = Math.Min(0.6, (top - bottom) / 3); // corners of the frame are cut off: it is no key of a keyboard
        return letters.Add(new(2 * half,
        [
            new(left + cut, bottom), new(right - cut, bottom), new(right, bottom + cut), new(right, top - cut),
            new(right - cut, top), new(left + cut, top), new(left, top - cut), new(left, bottom + cut), new(left + cut, bottom),
        ]));
    }

    private static double Square(double x) => x * x;
}
