using System.Globalization;
using System.Text;
using Consort.Engine.Documents;

namespace Consort.Workbench.Charts;

/// <summary>A chart as files: numbers with every digit (CSV after RFC 4180), and a drawing that needs nothing beside it (SVG).
/// </summary>
internal static class ChartFiles
{
    private const double Width = 930;
    private const double Height = 380;

    /// <summary>The numbers: a column for positions and one for each line.</summary>
    public static string Csv(ChartData chart)
    {
        StringBuilder text = new();
        text.AppendJoin(',', chart.Lines.Select(line => Field(line.Name)).Prepend(Field(chart.X.Title))).Append("\r\n");
        Dictionary<double, double>[] columns = [.. chart.Lines.Select(Column)];
        foreach (double x in chart.Positions)
            text.AppendJoin(',', columns.Select(column => column.TryGetValue(x, out double y) && double.IsFinite(y) ? Number(y) : "").Prepend(Number(x))).Append("\r\n");
        return text.ToString();
    }

    /// <summary>The drawing, with the report's colours, dashes and markers.</summary>
    public static string Svg(ChartData chart)
    {
        double[] xs = chart.Positions;
        IEnumerable<double> ys = chart.Lines.SelectMany(line => line.Points.Select(point => point.Y)).Concat(chart.Levels.Select(level => level.At));
        ChartAxis x = ChartAxis.Exactly(xs[0], xs[^1], chart.X.Title), y = ChartAxis.Holding(ys, chart.Y.Title);
        Chart art = new Chart(Width, Height, x, y, chart.Title).LabelsFrom([.. chart.Lines.Select(line => line.Name), .. chart.Levels.Select(level => level.Name), ""]);
        if (chart.Band is { } band)
            art.Band(band.Low, band.High);
        foreach (ChartMark level in chart.Levels)
            art.Level(level.At, level.Name);
        foreach (ChartMark mark in chart.Marks)
            art.Position(mark.At, mark.Name);
        foreach (ChartLine line in chart.Lines)
            art.Line(line.Name, chart.IsBars ? Steps(line) : line.Points, line.Style);
        string svg = art.Render();
        int inside = svg.IndexOf('>', StringComparison.Ordinal) + 1;
        return svg[..inside].Replace("<svg ", "<svg xmlns=\"http://www.w3.org/2000/svg\" ", StringComparison.Ordinal) + $"\n<style>{ReportPage.Style()}</style>" + svg[inside..];
    }

    /// <summary>A line's values by their positions.</summary>
    public static Dictionary<double, double> Column(ChartLine line)
    {
        Dictionary<double, double> column = [];
        foreach ((double x, double y) in line.Points)
            column[x] = y;
        return column;
    }

    private static List<(double, double)> Steps(ChartLine line)
    {
        List<(double, double)> corners = [];
        for (int i = 0; i < line.Points.Length; i++)
        {
            corners.Add(line.Points[i]);
            if (i + 1 < line.Points.Length)
                corners.Add((line.Points[i + 1].X, line.Points[i].Y));
        }
        return corners;
    }

    private static string Number(double value) => value.ToString("R", CultureInfo.InvariantCulture);

    private static string Field(string text) => text.AsSpan().ContainsAny(',', '"', '\n') ? $"\"{text.Replace("\"", "\"\"", StringComparison.Ordinal)}\"" : text;
}
