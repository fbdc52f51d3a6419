using System.Collections.Immutable;
using System.Globalization;
using Consort.Engine.Design;
using Consort.Engine.Documents.Files;
using Consort.Engine.Documents.Panels;
using Consort.Engine.Planning;

namespace Consort.Engine.Documents.Plans;

/// <summary>The panels in their rows, from the front, at half scale: legends where panels have places, names where not.</summary>
public static class RowPicture
{
    private const double Scale = 0.5; // paper to panel
    private const double MmOfMetre = 1e3 * Scale;
    private const double Margin = 8;
    private const double Top = 16;
    private const double Names = 12; // room below a row, mm

    /// <summary>The drawing.</summary>
    /// <param name="voice">Whose members and multiples stand there.</param>
    /// <param name="places">Where.</param>
    /// <param name="title">Above it.</param>
    public static LineArt Draw(Voice voice, ImmutableArray<RowPlace> places, string title)
    {
        double rowHeight = (places.Max(place => place.Height) * MmOfMetre) + Names;
        double width = places.Max(place => place.Left + place.Width) * MmOfMetre;
        double bottom = Top + ((places.Max(place => place.Row) + 1) * rowHeight);
        LineArt art = new(title, Math.Max(width + (2 * Margin), 130), bottom + 6);
        art.Text(title, Margin, 9, 5, bold: true);
        foreach (RowPlace place in places)
            Draw(art, voice, place, Margin + (place.Left * MmOfMetre), Top + (place.Row * rowHeight));
        art.Text(string.Create(CultureInfo.InvariantCulture, $"{1e3 * places.Sum(place => place.Width):0} mm of panels; scale 1:2"), Margin, bottom, 3.6);
        return art;
    }

    private static void Draw(LineArt art, Voice voice, RowPlace place, double left, double top)
    {
        double width = place.Width * MmOfMetre, height = place.Height * MmOfMetre;
        Member? member = voice.Members.FirstOrDefault(member => member.Name == place.Name);
        art.Box(left, top, width, height, 0.3);
        if (member?.Module.Panel.Layout is not null)
            Panel(art, new PanelArtist(member.Module).Draw(), left, top, height);
        else
            Plain(art, voice, place, left, top, width, height);
        if (place.Holds.IsEmpty)
            art.Text(place.Name, left + (width / 2), top + height + 4, 3.2, Anchor.Middle);
    }

    private static void Panel(LineArt art, PanelDrawing panel, double left, double top, double height)
    {
        (double X, double Y) At(Spot spot) => (left + (spot.X * Scale), top + height - (spot.Y * Scale));
        foreach (PanelShape shape in panel.Shapes.Where(shape => shape.Layer is ShapeLayer.Knob or ShapeLayer.Nut))
            art.Circle(At(shape.Middle).X, At(shape.Middle).Y, shape.Width * Scale / 2, 0.15);
        foreach (PanelHole hole in panel.Holes)
            art.Circle(At(hole.Middle).X, At(hole.Middle).Y, hole.Diameter * Scale / 2, 0.15);
        foreach (Stroke stroke in panel.Legend)
            art.Line(stroke.Width * Scale, 0, [.. stroke.Points.Select(At)]);
    }

    // A multiple, or a module whose panel has no places: its jacks in a column, its name beside them.
    private static void Plain(LineArt art, Voice voice, RowPlace place, double left, double top, double width, double height)
    {
        art.Text(place.Name, left + (width / 2) - 1.2, top + 3, 3, isUpright: false);
        int jacks = place.Holds.Sum(name => voice.Multiples.First(multiple => multiple.Name == name).Ways + 1);
        double step = Math.Min(6, (height - 34) / Math.Max(1, jacks));
        for (int i = 0; i < jacks; i++)
            art.Circle(left + (width / 2), top + height - 4 - (i * step), Math.Min(1.6, step / 2.4), 0.2);
    }
}
