using Consort.Engine.Documents.Files;
using Consort.Engine.Scope;
using ScottPlot;
using SkiaSharp;

namespace Consort.Engine.Documents;

/// <summary>
/// A sweep as a picture: every trace in a lane of its own with its voltages at the left and its readings at the right, so
/// that it reads without colour; dark lines on white for paper, or light ones on a dark ground for a dim room.
/// </summary>
public sealed class ScopePicture : IDisposable
{
    private const int Width = 1100;
    private const int LaneHeight = 160;
    private const int Around = 110;
    private const double Gap = 1.3; // between lanes, divisions: the trace's name stands there
    private const int Sharpness = 2; // pixels of a PNG for one of the drawing

    private static readonly string[] FontsTried = ["DejaVu Sans", "Liberation Sans", "Noto Sans", "Arial", "Helvetica"];

    // M. Okabe, K. Ito, Color Universal Design (2008): told apart by colour-blind eyes; the light set is the same, brighter.
    private static readonly string[] Dark = ["#0072B2", "#B34700", "#00795A", "#9B3F7A", "#4D4D4D", "#7A6A00"];
    private static readonly string[] Light = ["#56B4E9", "#F0A042", "#2FC79B", "#E69FC8", "#D9D9D9", "#F0E442"];

    private readonly ScopeRecord record;
    private readonly Plot plot = new();
    private readonly bool dark;
    private readonly (double Factor, string Unit) time;

    private ScopePicture(ScopeRecord record, bool dark)
    {
        (this.record, this.dark) = (record, dark);
        time = ScopeWords.TimeUnit(record.SecondsPerDivision);
        Draw();
    }

    /// <inheritdoc/>
    public void Dispose() => plot.Dispose();

    private int Height => Around + LaneHeight * record.Traces.Length;

    /// <summary>The picture as SVG text.</summary>
    public static string Svg(ScopeRecord record, bool dark)
    {
        using ScopePicture picture = new(record, dark);
        return picture.plot.GetSvgXml(Width, picture.Height);
    }

    /// <summary>The picture as a PNG file's bytes.</summary>
    public static byte[] Png(ScopeRecord record, bool dark)
    {
        using ScopePicture picture = new(record, dark);
        picture.plot.ScaleFactor = Sharpness;
        return picture.plot.GetImageBytes(Width * Sharpness, picture.Height * Sharpness, ImageFormat.Png);
    }

    private Color Ink => Color.FromHex(dark ? "#E8E8E8" : "#1A1A1A");

    private Color Ground => Color.FromHex(dark ? "#14171A" : "#FFFFFF");

    private Color Grid => Color.FromHex(dark ? "#3A4046" : "#D4D4D4");

    private Color Axis => Color.FromHex(dark ? "#7D858C" : "#8C8C8C");

    private Color Of(int trace) => Color.FromHex((dark ? Light : Dark)[trace % Dark.Length]);

    private void Draw()
    {
        plot.Font.Set(FontsTried.FirstOrDefault(SKFontManager.Default.FontFamilies.Contains) ?? SKFontManager.Default.FontFamilies.FirstOrDefault() ?? Fonts.Default);
        plot.FigureBackground.Color = plot.DataBackground.Color = Ground;
        plot.HideGrid();
        plot.Axes.Color(Ink);
        plot.Axes.Frame(false);
        for (int lane = 0; lane < record.Traces.Length; lane++)
            DrawLane(lane);
        double foot = Foot(record.Traces.Length - 1);
        double head = Middle(0) + Lane.HalfDivisions + Gap;
        plot.Axes.SetLimits(record.From * time.Factor, record.To * time.Factor, foot - 0.05, head);
        plot.Axes.SetLimitsY(foot - 0.05, head, plot.Axes.Right);
        TimeTicks();
        VoltTicks();
        Readings();
        plot.Title($"{record.Voice} at {Minus.Set(Figures.Si(record.Play, "V"))}, {Minus.Set(Figures.Celsius(record.Kelvin))}", 16);
        plot.XLabel($"{time.Unit}, {Figures.Si(record.SecondsPerDivision, "s")} per division   ·   {ScopeWords.Trigger(record)}", 13);
    }

    private static double Middle(int lane) => -lane * (2 * Lane.HalfDivisions + Gap);

    private static double Foot(int lane) => Middle(lane) - Lane.HalfDivisions;

    private void DrawLane(int lane)
    {
        Trace trace = record.Traces[lane];
        double middle = Middle(lane), from = record.From * time.Factor, to = record.To * time.Factor;
        for (int division = -Lane.HalfDivisions; division <= Lane.HalfDivisions; division++)
            Rule(from, middle + division, to, middle + division, division == 0 ? Axis : Grid);
        for (int division = 0; division <= ScopeSettings.Divisions; division++)
        {
            double at = from + (to - from) * division / ScopeSettings.Divisions;
            Rule(at, Foot(lane), at, middle + Lane.HalfDivisions, division == 1 ? Axis : Grid);
        }
        (double[] xs, double[] ys) = Inside(trace, middle);
        ScottPlot.Plottables.Scatter line = plot.Add.ScatterLine(xs, ys, Of(lane));
        line.LineWidth = 1.8f;
        ScottPlot.Plottables.Text name = plot.Add.Text(trace.Name, from, middle + Lane.HalfDivisions + 0.1);
        (name.LabelAlignment, name.LabelFontColor, name.LabelFontSize, name.LabelBold) = (Alignment.LowerLeft, Of(lane), 14, true);
    }

    // What leaves the lane runs along its edge, as a trace that leaves the screen is cut off there.
    private (double[] Xs, double[] Ys) Inside(Trace trace, double middle)
    {
        (double Time, double Volts)[] points = [.. record.Shown(trace)];
        double[] ys = [.. points.Select(p => middle + Math.Clamp((p.Volts - trace.Lane.Centre) / trace.Lane.VoltsPerDivision, -Lane.HalfDivisions, Lane.HalfDivisions))];
        return ([.. points.Select(p => p.Time * time.Factor)], ys);
    }

    private void Rule(double x1, double y1, double x2, double y2, Color colour)
    {
        ScottPlot.Plottables.LinePlot rule = plot.Add.Line(x1, y1, x2, y2);
        rule.LineColor = colour;
        rule.LineWidth = 1;
    }

    private void TimeTicks()
    {
        double[] at = [.. Enumerable.Range(0, ScopeSettings.Divisions + 1).Select(i => (record.From + i * record.SecondsPerDivision) * time.Factor)];
        plot.Axes.Bottom.SetTicks(at, [.. at.Select(ScopeWords.Plain)]);
        Style(plot.Axes.Bottom, 12);
    }

    private void VoltTicks()
    {
        List<double> at = [];
        List<string> texts = [];
        for (int lane = 0; lane < record.Traces.Length; lane++)
            for (int division = -2; division <= 2; division += 2)
            {
                Lane scale = record.Traces[lane].Lane;
                (double factor, string unit) = ScopeWords.VoltUnit(scale.VoltsPerDivision);
                at.Add(Middle(lane) + division);
                texts.Add($"{ScopeWords.Plain((scale.Centre + division * scale.VoltsPerDivision) * factor)} {unit}");
            }
        plot.Axes.Left.SetTicks([.. at], [.. texts]);
        Style(plot.Axes.Left, 12);
    }

    private void Readings()
    {
        List<double> at = [];
        List<string> texts = [];
        for (int lane = 0; lane < record.Traces.Length; lane++)
        {
            string[] lines = [.. ScopeWords.Beside(record.Traces[lane])]; // the name stands above the lane
            for (int i = 0; i < lines.Length; i++)
            {
                at.Add(Middle(lane) + Lane.HalfDivisions - 0.5 - i * 5.4 / Math.Max(5, lines.Length - 1));
                texts.Add(Minus.Set(lines[i]));
            }
        }
        plot.Axes.Right.SetTicks([.. at], [.. texts]);
        Style(plot.Axes.Right, 12);
        plot.Axes.Right.MinimumSize = 175;
        plot.Axes.Left.MinimumSize = 60;
    }

    private static void Style(IAxis axis, float size)
    {
        axis.MajorTickStyle.Length = 0;
        axis.MinorTickStyle.Length = 0;
        axis.TickLabelStyle.FontSize = size;
    }
}
