using System.Collections.Immutable;
using Consort.Engine.Design;
using Consort.Engine.Documents.Files;
using Consort.Engine.Sound.Playing;
using ScottPlot;
using SkiaSharp;

namespace Consort.Engine.Documents;

/// <summary>Beats of each pair over the keyboard: whole lines from the pitch laws, dotted ones of the same colour from their
/// intervals alone. Beats a second on a scale of decades; a dip is a pitch at which the two are in unison.</summary>
public static class BeatPicture
{
    private const int Width = 1000;
    private const int Height = 560;
    private const int Sharpness = 2;
    private const double Slowest = 1e-3; // Hz: a beat of a quarter of an hour

    private static readonly string[] FontsTried = ["DejaVu Sans", "Liberation Sans", "Noto Sans", "Arial", "Helvetica"];

    // M. Okabe, K. Ito, Color Universal Design (2008).
    private static readonly string[] Colours = ["#0072B2", "#B34700", "#00795A", "#9B3F7A", "#4D4D4D", "#7A6A00"];
    private static readonly MarkerShape[] Marks = [MarkerShape.FilledCircle, MarkerShape.FilledSquare, MarkerShape.FilledTriangleUp, MarkerShape.FilledDiamond, MarkerShape.OpenCircle, MarkerShape.OpenSquare];

    /// <summary>Writes it as the file's name ends.</summary>
    /// <exception cref="IOException">It cannot be written.</exception>
    public static void Write(string file, ImmutableArray<BeatCurve> curves, string voice)
    {
        using Plot plot = Draw(curves, voice);
        if (file.EndsWith(".png", StringComparison.OrdinalIgnoreCase))
        {
            plot.ScaleFactor = Sharpness;
            WholeFile.Write(file, plot.GetImageBytes(Width * Sharpness, Height * Sharpness, ImageFormat.Png));
        }
        else
            WholeFile.Write(file, plot.GetSvgXml(Width, Height));
    }

    private static Plot Draw(ImmutableArray<BeatCurve> curves, string voice)
    {
        Plot plot = new();
        plot.Font.Set(FontsTried.FirstOrDefault(SKFontManager.Default.FontFamilies.Contains) ?? SKFontManager.Default.FontFamilies.FirstOrDefault() ?? Fonts.Default);
        for (int i = 0; i < curves.Length; i++)
        {
            Line(plot, curves[i].Points.Select(point => (point.Volts, point.IdealHertz)), i, LinePattern.Dotted, null);
            Line(plot, curves[i].Points.Where(point => !point.AreHeld).Select(point => (point.Volts, point.Hertz)), i, LinePattern.Solid, Name(curves[i]));
        }
        (int low, int high) = Decades(curves.SelectMany(curve => curve.Points).SelectMany(point => (double[])[point.AreHeld ? double.NaN : point.Hertz, point.IdealHertz]));
        double[] decades = [.. Enumerable.Range(low, high - low + 1).Select(power => (double)power)];
        plot.Axes.Left.SetTicks(decades, [.. decades.Select(power => Figures.Si(Math.Pow(10, power), "Hz"))]);
        plot.Axes.SetLimitsY(low, high);
        plot.Axes.Bottom.TickGenerator = new ScottPlot.TickGenerators.NumericAutomatic { LabelFormatter = volts => Minus.Set($"{volts:0.##}") };
        plot.Title($"{voice}: beats (dotted: by the intervals alone)", 16);
        plot.XLabel("control voltage, V", 13);
        plot.YLabel("beats", 13);
        plot.ShowLegend(Alignment.UpperLeft);
        return plot;
    }

    private static string Name(BeatCurve curve) =>
        $"{curve.First}, {curve.Second}{(curve.AreHeld ? ": held, no beat" : curve.Points.Any(point => point.AreHeld) ? ": held where it has no line" : "")}";

    /// <summary>Whole decades, as powers of ten of 1 Hz, that hold all beats, from the slowest that counts on.</summary>
    internal static (int Low, int High) Decades(IEnumerable<double> hertz)
    {
        double[] powers = [.. hertz.Where(double.IsFinite).Select(beat => Math.Log10(Math.Max(Slowest, Math.Abs(beat)))).DefaultIfEmpty(0)];
        int low = (int)Math.Floor(powers.Min());
        return (low, Math.Max(low + 1, (int)Math.Ceiling(powers.Max())));
    }

    private static void Line(Plot plot, IEnumerable<(double Volts, double Hertz)> points, int colour, LinePattern pattern, string? name)
    {
        (double Volts, double Hertz)[] all = [.. points];
        double[] ys = [.. all.Select(point => Math.Log10(Math.Max(Slowest, Math.Abs(point.Hertz))))];
        ScottPlot.Plottables.Scatter line = plot.Add.ScatterLine([.. all.Select(point => point.Volts)], ys, Color.FromHex(Colours[colour % Colours.Length]));
        (line.LineWidth, line.LinePattern) = (name is null ? 1.5f : 2, pattern);
        if (name is null)
            return;
        line.LegendText = name;
        (line.MarkerShape, line.MarkerSize) = (Marks[colour % Marks.Length], 6);
    }
}
