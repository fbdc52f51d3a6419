using System.Collections.Immutable;
using Consort.Engine.Design;

namespace Consort.Engine.Documents.Panels;

/// <summary>Draws a module's panel: holes, legends, scales, helping shapes.</summary>
/// <param name="module">A module whose panel has places.</param>
internal sealed class PanelArtist(Module module)
{
    private const double ToMm = 1e3;
    private const double LegendGap = 1.3; // mm from nut or scale to legend
    private const double TickFrom = 0.9; // mm outside the knob
    private const double TickLength = 1.3;
    private const double HalfTurn = 150; // degrees from the middle to either end of a potentiometer's travel, common practice
    private const double MarkShare = 0.8; // of the legends' height

    private readonly PanelLayout layout = module.Panel.Layout ?? throw new ArgumentException("a panel without places", nameof(module));

    /// <summary>Stem of file names: that of the module's file.</summary>
    public static string FileOf(Module module) => Path.GetFileNameWithoutExtension(module.At.File);

    /// <summary>The panel as geometry.</summary>
    public PanelDrawing Draw() =>
        new(
            module.Name,
            FileOf(module),
            Round(layout.Width * ToMm),
            Round(layout.Height * ToMm),
            [.. layout.Places.Select(Hole), .. layout.Mounting.Select(Slot)],
            [.. Texts().SelectMany(text => text.Strokes()), .. layout.Places.SelectMany(Ticks)],
            [.. layout.Places.SelectMany(Shapes)]
        );

    /// <summary>All printed texts.</summary>
    public ImmutableArray<PanelText> Texts()
    {
        ImmutableArray<PanelText>.Builder texts = ImmutableArray.CreateBuilder<PanelText>();
        if (layout.Title.Length > 0)
            texts.Add(Title());
        foreach (PanelPlace place in layout.Places)
        {
            if (place.Legend.Length > 0)
                texts.Add(Legend(place));
            texts.AddRange(Marks(place));
        }
        return texts.ToImmutable();
    }

    /// <summary>A place's middle, mm, y upward.</summary>
    public Spot Middle(PanelPlace place) => new(Round(place.X * ToMm), Round((layout.Height - place.Y) * ToMm));

    /// <summary>Radius around a part's middle that its own print keeps clear of, mm.</summary>
    public static double Inner(PanelPlace place) => (place.Fitting.Solid * ToMm / 2) + (HasScale(place) ? TickFrom + TickLength : 0);

    // Coordinates are whole micrometres: what is written in one format is what is written in the others.
    private static double Round(double mm) => Math.Round(mm, 3);

    private static bool HasScale(PanelPlace place) => place.Kind == "potentiometer" && place.Fitting.Knob > 0;

    private PanelHole Hole(PanelPlace place) => new(place.Part, Middle(place), Round(place.Fitting.Hole * ToMm), 0);

    private PanelHole Slot(MountingSlot slot) =>
        new("mounting", new(Round(slot.X * ToMm), Round((layout.Height - slot.Y) * ToMm)), Round(slot.Diameter * ToMm), Round(slot.Travel * ToMm));

    private PanelText Title()
    {
        double height = 1.3 * layout.Text * ToMm;
        return new("", layout.Title, layout.Width * ToMm / 2, ((layout.Height - RoomAtTop()) * ToMm) - height, height, false, layout.At);
    }

    // Below the screws' washers.
    private double RoomAtTop() => layout.Mounting.IsEmpty ? 3e-3 : layout.Mounting.Min(slot => slot.Y) + 4.5e-3;

    private PanelText Legend(PanelPlace place)
    {
        double height = layout.Text * ToMm;
        Spot middle = Middle(place);
        double outward = Inner(place) + LegendGap;
        PanelText text = new(place.Part, place.Legend, middle.X, middle.Y, height, place.IsOutput, place.At);
        double half = (text.Right - text.Left) / 2;
        double below = text.Baseline - text.Bottom;
        double above = text.Top - text.Baseline;
        return place.Side switch
        {
            LegendSide.Below => text with { Baseline = middle.Y - outward - above },
            LegendSide.Left => text with { X = middle.X - outward - half, Baseline = middle.Y - (height / 2) },
            LegendSide.Right => text with { X = middle.X + outward + half, Baseline = middle.Y - (height / 2) },
            _ => text with { Baseline = middle.Y + outward + below },
        };
    }

    // A switch's ways, from left to right under it; or up and down its right side when there are two or three.
    private IEnumerable<PanelText> Marks(PanelPlace place)
    {
        double height = MarkShare * layout.Text * ToMm;
        Spot middle = Middle(place);
        double side = Inner(place) + LegendGap;
        for (int i = 0; i < place.Marks.Length; i++)
        {
            double step = (i - ((place.Marks.Length - 1) / 2.0)) * height * 1.5;
            double half = StrokeFont.Width(place.Marks[i], height) / 2;
            yield return new(place.Part, place.Marks[i], middle.X + side + half, middle.Y - step - (height / 2), height, false, place.At);
        }
    }

    private IEnumerable<Stroke> Ticks(PanelPlace place)
    {
        if (!HasScale(place))
            yield break;
        Spot middle = Middle(place);
        double radius = (place.Fitting.Knob * ToMm / 2) + TickFrom;
        double pen = StrokeFont.StrokeWidth(layout.Text * ToMm);
        foreach (double turn in (double[])[-1, -0.5, 0, 0.5, 1])
        {
            double angle = turn * HalfTurn * Math.PI / 180;
            double length = Math.Abs(turn) is 0.5 ? TickLength / 2 : TickLength;
            yield return new(pen, [Around(radius), Around(radius + length)]);

            Spot Around(double r) => new(Round(middle.X + (r * Math.Sin(angle))), Round(middle.Y + (r * Math.Cos(angle))));
        }
    }

    private IEnumerable<PanelShape> Shapes(PanelPlace place)
    {
        Spot middle = Middle(place);
        yield return new(ShapeLayer.Body, middle, place.Fitting.BodyWidth * ToMm, place.Fitting.BodyHeight * ToMm);
        if (place.Fitting.Nut > 0)
            yield return new(ShapeLayer.Nut, middle, place.Fitting.Nut * ToMm, 0);
        if (place.Fitting.Knob > 0)
            yield return new(ShapeLayer.Knob, middle, place.Fitting.Knob * ToMm, 0);
    }
}
