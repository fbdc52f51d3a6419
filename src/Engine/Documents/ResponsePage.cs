using System.Collections.Immutable;
using System.Text;
using Consort.Engine.Response;

namespace Consort.Engine.Documents;

/// <summary>Response sheets as one HTML page that needs nothing beside it, for screen (light and dark) and print. The same
/// sheets give the same bytes.</summary>
public static class ResponsePage
{
    private const double Width = 460;
    private const double Height = 290;

    /// <summary>The page.</summary>
    public static string Write(ResponseBook book)
    {
        StringBuilder page = new();
        page.Append("<!DOCTYPE html>\n<html lang=\"en\">\n<head>\n<meta charset=\"utf-8\">\n<meta name=\"viewport\" content=\"width=device-width, initial-scale=1\">\n");
        page.Append($"<title>{Text(book.Voice)}: what it does when it is modulated</title>\n<style>\n{ReportPage.Style()}</style>\n</head>\n<body>\n<main>\n");
        page.Append($"<h1>{Text(book.Voice)}: what it does when it is modulated</h1>\n");
        page.Append($"<p>At {Text(Figures.Si(book.Play, "V"))} on the keyboard and {Text(Figures.Celsius(book.Kelvin))}. Jacks were driven by {Text(Figures.Si(book.Swing, "V"))} either way ");
        page.Append($"from {Text(Figures.Si(Drive.SourceOhms, "Ω"))}, the control that sets their depth fully open; everything else stands where the voice's files have it.</p>\n");
        foreach (OscillatorResponse one in book.Oscillators)
            page.Append(Oscillator(book, one));
        page.Append("<p class=\"soft\">Computed from the full circuit in motion, with the rest of the voice as it answers at rest; no built unit was measured. ");
        page.Append("A figure in motion is counted in the circuit with that sine at its jack.</p>\n</main>\n</body>\n</html>\n");
        return page.ToString();
    }

    private static string Oscillator(ResponseBook book, OscillatorResponse one)
    {
        StringBuilder html = new($"<h2>{Text(one.Oscillator)}, {Text(one.Module)}: {Text($"{Figures.Hertz(one.Hertz)} Hz")}</h2>\n");
        html.Append(Moves(one));
        foreach (IGrouping<string, WidthSheet> output in one.Widths.GroupBy(sheet => sheet.Output))
            html.Append(Widths(output.Key, [.. output]));
        foreach (FrequencySheet sheet in one.Frequencies)
            html.Append(Frequency(book, sheet));
        foreach (SyncSheet sheet in one.Syncs)
            html.Append(ResponseSyncPage.Write(sheet));
        html.Append(Waves(one)).Append(Levels(one));
        foreach (AbsentSheet absent in one.Absent)
            html.Append($"<p class=\"soft\">No sheet <i>{ResponseWords.Name(absent.Kind)}</i>: {Text(absent.Reason)}.</p>\n");
        return html.ToString();
    }

    private static string Moves(OscillatorResponse one)
    {
        if (one.Effects.IsEmpty)
            return "";
        string[] pulses = [.. one.Widths.Select(sheet => sheet.Output).Distinct()];
        StringBuilder html = new("<h3>What moves it</h3>\n<div class=\"wide\"><table>\n");
        html.Append("<tr><th>Control or jack</th><th class=\"n\">from</th><th class=\"n\">to</th><th class=\"n\">pitch at the low end, cents</th><th class=\"n\">at the high end</th>");
        foreach (string pulse in pulses)
            html.Append($"<th class=\"n\">width of {Text(pulse)}</th>");
        html.Append("</tr>\n");
        foreach (DriveEffect effect in one.Effects)
        {
            html.Append($"<tr><td class=\"k\">{Text(effect.Drive.Words)}</td>{ReportPage.Cell(ResponseWords.At(effect.Drive, effect.Drive.Low))}{ReportPage.Cell(ResponseWords.At(effect.Drive, effect.Drive.High))}");
            html.Append(ReportPage.Cell(ResponseWords.Cents(effect, 0))).Append(ReportPage.Cell(ResponseWords.Cents(effect, 2)));
            foreach (string pulse in pulses)
                html.Append(ReportPage.Cell($"{ResponseWords.Percent(effect.Widths[pulse][0])} to {ResponseWords.Percent(effect.Widths[pulse][2])}"));
            html.Append("</tr>\n");
        }
        return html.Append("</table></div>\n").ToString();
    }

    private static string Widths(string output, WidthSheet[] sheets)
    {
        StringBuilder html = new($"<h3>Width of {Text(output)}</h3>\n<div class=\"pair\">\n");
        foreach (WidthSheet sheet in sheets)
        {
            double scale = ResponseLines.Scale(sheet.Drive);
            ChartAxis x = ChartAxis.Exactly(scale * sheet.Drive.Low, scale * sheet.Drive.High, ResponseLines.Axis(sheet.Drive), 10);
            Chart chart = new Chart(Width, Height, x, new(0, 100, 20, "high, % of the period"), $"Width of {output} against {sheet.Drive.Words}")
                .LabelsFrom([" "])
                .Level(50, "");
            foreach (WidthEnd end in new[] { sheet.Low, sheet.High }.OfType<WidthEnd>())
                chart.Position(scale * end.At, "dies", atFoot: end.High); // a pulse that stays high has its line along the top
            chart.Line(output, ResponseLines.Width(sheet), 0, labelled: false);
            html.Append(Figure(chart, string.Join(". ", ResponseWords.Sentences(sheet).Select(Capital))));
        }
        return html.Append("</div>\n").ToString();
    }

    private static string Frequency(ResponseBook book, FrequencySheet sheet)
    {
        StringBuilder html = new($"<h3>Frequency against {Text(sheet.Drive.Words)}</h3>\n<div class=\"pair\">\n");
        ChartAxis x = ChartAxis.Exactly(sheet.Drive.Low, sheet.Drive.High, ResponseLines.Axis(sheet.Drive), 10);
        ImmutableArray<(double, double)> line = ResponseLines.Law(sheet);
        ChartAxis y = ChartAxis.Holding(line.Select(point => point.Item2), sheet.IsLinear ? "frequency, Hz" : "octaves from the carrier");
        y = y with { Low = sheet.IsLinear ? 0 : y.Low };
        Chart law = new Chart(Width, Height, x, y, $"Frequency against {sheet.Drive.Words}").LabelsFrom([" "]);
        if (sheet.End != LowEnd.Runs)
            law.Position(sheet.EndVolts, sheet.End == LowEnd.Stops ? "stops" : "turns");
        html.Append(Figure(law.Line("", line, 0, labelled: false), string.Join(". ", ResponseWords.Sentences(sheet).Select(Capital))));
        ChartAxis peak = new(0, sheet.Drive.High, sheet.Drive.High / 5, "peak of the sine, V");
        ChartAxis cents = ChartAxis.Holding(sheet.Depths.SelectMany(depth => new[] { depth.ShiftCents, depth.MotionCents }), "pitch shift, cents", 0.5);
        cents = cents with { Low = cents.Low < -cents.Step && sheet.Depths.All(depth => !(depth.ShiftCents < -0.5)) ? -cents.Step : cents.Low };
        Chart shift = new Chart(Width, Height, peak, cents, "Mean pitch under modulation")
            .LabelsFrom(["in motion"])
            .Line("at rest", [.. sheet.Depths.Select(depth => (depth.Peak, depth.ShiftCents))], 0)
            .Line("in motion", [.. sheet.Depths.Where(depth => double.IsFinite(depth.MotionCents)).Select(depth => (depth.Peak, depth.MotionCents))], 1);
        html.Append(Figure(shift, $"Mean pitch under a sine of {Figures.Hertz(book.Modulator)} Hz against the carrier: foretold from the law read at rest, and counted in motion"));
        html.Append("</div>\n<div class=\"wide short\"><table>\n<tr><th class=\"n\">sine, peak</th><th class=\"n\">deviation</th><th class=\"n\">index</th><th class=\"n\">pitch shift, cents</th><th class=\"n\">in motion</th></tr>\n");
        foreach (DepthPoint depth in sheet.Depths)
            html.Append($"<tr>{ReportPage.Cell(Figures.Si(depth.Peak, "V"))}{ReportPage.Cell($"{depth.DeviationHertz:0.0} Hz")}{ReportPage.Cell($"{depth.Index:0.000}")}{ReportPage.Cell(Figures.SignedCents(depth.ShiftCents))}")
                .Append(ReportPage.Cell(ResponseWords.Motion(depth))).Append("</tr>\n");
        return html.Append("</table></div>\n").ToString();
    }

    private static string Waves(OscillatorResponse one)
    {
        if (one.Waves.IsEmpty)
            return "";
        StringBuilder html = new("<h3>Wave shapes</h3>\n<div class=\"wide\"><table class=\"dense\">\n<tr><th>Output</th><th>at</th><th class=\"n\">peak to peak</th><th class=\"n\">THD</th><th class=\"n\">departs</th>");
        foreach (int k in Enumerable.Range(2, 9))
            html.Append($"<th class=\"n\">{k}</th>");
        html.Append("</tr>\n");
        foreach (WaveSheet sheet in one.Waves)
        {
            bool isFirst = true;
            foreach ((string at, WavePoint point) in ResponseWords.Points(sheet))
            {
                string name = isFirst ? $"{Text(sheet.Output)} <span class=\"soft\">({ResponseWords.Name(sheet.Nearest)})</span>" : "";
                html.Append($"<tr{(isFirst ? " class=\"first\"" : "")}><td class=\"k\">{name}</td><td class=\"k\">{Text(at)}</td>{ReportPage.Cell($"{point.PeakToPeak:0.00} V")}");
                html.Append(ReportPage.Cell(ResponseWords.Percent(point.Distortion, "0.00"))).Append(ReportPage.Cell(ResponseWords.Percent(point.Departure, "0.00")));
                foreach (double db in point.Db)
                    html.Append(ReportPage.Cell($"{db:0.0}"));
                html.Append("</tr>\n");
                isFirst = false;
            }
        }
        html.Append("</table></div>\n<p class=\"soft\">Harmonics 2 to 10 against the fundamental, dB; THD of harmonics 2 to 20 (IEC 60268-3). An output departs from the nearest ideal wave by the root of the sum of squares of ");
        return html.Append("what each harmonic lacks or has over it, against the fundamental; phases do not count.</p>\n").ToString();
    }

    private static string Levels(OscillatorResponse one)
    {
        if (one.Levels.IsEmpty)
            return "";
        StringBuilder html = new("<h3>Levels under load</h3>\n<div class=\"wide\"><table>\n<tr><th>Output</th>");
        foreach (double load in LevelSheet.Loads)
            html.Append($"<th class=\"n\">{Text(ResponseWords.Load(load))}</th>");
        html.Append("<th class=\"n\">mean</th><th class=\"n\">lowest</th><th class=\"n\">highest</th><th class=\"n\">output resistance</th><th class=\"n\">pulls the pitch, cents</th></tr>\n");
        foreach (LevelSheet sheet in one.Levels)
        {
            html.Append($"<tr><td class=\"k\">{Text(sheet.Output)}</td>");
            foreach (LevelPoint point in sheet.Points)
                html.Append(ReportPage.Cell($"{point.PeakToPeak:0.00} V"));
            LevelPoint open = sheet.Points[0];
            html.Append(ReportPage.Cell($"{open.Mean:0.00} V")).Append(ReportPage.Cell($"{open.Lowest:0.00} V")).Append(ReportPage.Cell($"{open.Highest:0.00} V"));
            html.Append(ReportPage.Cell(Figures.Si(double.Round(sheet.Ohms, 0), "Ω"))).Append(ReportPage.Cell(ResponseWords.Signed(sheet.Points[^1].PitchCents, 3))).Append("</tr>\n");
        }
        return html.Append("</table></div>\n<p class=\"soft\">Peak to peak under each load to 0 V; mean and ends without load; the pull is that of the heaviest load.</p>\n")
            .Append(string.Concat(one.Levels.Select(sheet => $"<p>{ReportPage.Number(Capital(ResponseWords.Sentence(sheet)))}.</p>\n"))).ToString();
    }

    internal static string Figure(Chart chart, string caption) => $"<figure>\n{chart.Render()}\n<figcaption>{ReportPage.Number(caption)}.</figcaption>\n</figure>\n";

    internal static string Capital(string sentence) => char.ToUpperInvariant(sentence[0]) + sentence[1..];

    private static string Text(string text) => ReportPage.Encode(text);
}
