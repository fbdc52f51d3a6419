using System.Collections.Immutable;

namespace Consort.Engine.Documents.Panels;

/// <summary>A point, mm, from the lower left corner of the sheet, y upward, seen from the front.</summary>
public readonly record struct Spot(double X, double Y);

/// <summary>A line of several points, drawn with a round pen.</summary>
/// <param name="Width">Of the pen, mm.</param>
/// <param name="Points">At least one.</param>
public sealed record Stroke(double Width, ImmutableArray<Spot> Points);

/// <summary>A hole or slot through the sheet.</summary>
/// <param name="Name">Designator, or <c>mounting</c>.</param>
/// <param name="Middle">Of it.</param>
/// <param name="Diameter">Of the tool, mm.</param>
/// <param name="Travel">Length of a slot's middle line along x, mm; 0 for a round hole.</param>
public readonly record struct PanelHole(string Name, Spot Middle, double Diameter, double Travel)
{
    /// <summary>Where the tool goes in.</summary>
    public Spot From => Middle with { X = Middle.X - (Travel / 2) };

    /// <summary>Where it comes out.</summary>
    public Spot To => Middle with { X = Middle.X + (Travel / 2) };
}

/// <summary>A circle or rectangle that helps the eye: a nut, a knob, a body behind the sheet.</summary>
/// <param name="Layer">What it shows.</param>
/// <param name="Middle">Of it.</param>
/// <param name="Width">Diameter of a circle, mm.</param>
/// <param name="Height">Of a rectangle, mm; 0 for a circle.</param>
public readonly record struct PanelShape(ShapeLayer Layer, Spot Middle, double Width, double Height);

/// <summary>What a helping shape shows.</summary>
public enum ShapeLayer
{
    /// <summary>In front of the sheet: a nut or washer.</summary>
    Nut,
    /// <summary>In front of it: a knob.</summary>
    Knob,
    /// <summary>Behind it.</summary>
    Body,
}

/// <summary>A panel as geometry: what every picture and every file for manufacture is made of.</summary>
/// <param name="Name">The module's name.</param>
/// <param name="File">Stem of file names.</param>
/// <param name="Width">Of the sheet, mm.</param>
/// <param name="Height">Of the sheet, mm.</param>
/// <param name="Holes">By designator in the file's order, mounting slots last.</param>
/// <param name="Legend">Strokes printed on it.</param>
/// <param name="Shapes">Nuts, knobs, bodies: in drawings only.</param>
public sealed record PanelDrawing(
    string Name,
    string File,
    double Width,
    double Height,
    ImmutableArray<PanelHole> Holes,
    ImmutableArray<Stroke> Legend,
    ImmutableArray<PanelShape> Shapes
);
