using System.Text;
using Consort.Engine.Pitch;

namespace Consort.Engine.Documents;

/// <summary>The report's part on tracking: one plot for each temperature, then the readings, then the moves with
/// temperature.</summary>
internal static class ReportTracking
{
    public static string Write(Proof proof)
    {
        if (proof.Tracking.IsEmpty)
            return "";
        StringBuilder html = new("<h2>Tracking</h2>\n");
        html.Append("<p>Pitch error against the ideal law, each oscillator against its own interval from the voice. ");
        html.Append("Positive is sharp. The shaded band is what is asked.</p>\n");
        ILookup<bool, IGrouping<double, TrackingCurve>> groups = proof
            .Tracking.GroupBy(curve => curve.Kelvin)
            .ToLookup(group => Figures.IsReference(group.Key));
        foreach (IGrouping<double, TrackingCurve> group in groups[true])
            html.Append(Figure(proof, group.Key, [.. group], 930, 340, [.. group]));
        TrackingCurve[] others = [.. groups[false].SelectMany(group => group)];
        html.Append("<div class=\"pair\">\n");
        foreach (IGrouping<double, TrackingCurve> group in groups[false].OrderBy(group => group.Key))
            html.Append(Figure(proof, group.Key, [.. group], 460, 300, others));
        html.Append("</div>\n").Append(Readings(proof)).Append(Moves(proof));
        return html.ToString();
    }

    /// <summary>One plot. Plots side by side share the scale that holds all of them.</summary>
    private static string Figure(Proof proof, double kelvin, TrackingCurve[] curves, double width, double height, TrackingCurve[] scale)
    {
        double limit = proof.Limits.TrackingCents;
        ChartAxis x = ChartAxis.Exactly(
            scale.Min(curve => curve.Points.Min(point => point.ControlVolts)),
            scale.Max(curve => curve.Points.Max(point => point.ControlVolts)),
            "control voltage, V"
        );
        ChartAxis y = ChartAxis.Holding(scale.SelectMany(curve => curve.Points.Select(point => point.Cents)), "error, cents", limit * 1.1);
        Chart chart = new Chart(width, height, x, y, $"Tracking error of every oscillator at {Figures.Celsius(kelvin)}")
            .LabelsFrom([.. curves.Select(curve => curve.Oscillator), "limit"])
            .TopScale($"ideal frequency of {curves[0].Oscillator}, Hz", TopTicks(curves[0], x))
            .Band(-limit, limit)
            .Level(limit, "limit")
            .Level(-limit, "limit");
        if (width > 600)
            chart.Span(proof.Limits.LowestVoltage, proof.Limits.LowestVoltage + proof.Limits.Octaves, $"{proof.Limits.Octaves:0.#} octaves asked");
        for (int i = 0; i < curves.Length; i++)
            chart.Line(curves[i].Oscillator, [.. curves[i].Points.Select(point => (point.ControlVolts, point.Cents))], i);
        string caption = Figures.IsReference(kelvin) ? ", where the trims are made" : ", trims as set at 25 °C" + (scale.Length > curves.Length ? "; the plots at other temperatures share one scale" : "");
        return $"<figure>\n{chart.Render()}\n<figcaption><b>{ReportPage.Number(Figures.Celsius(kelvin))}</b>{caption}.</figcaption>\n</figure>\n";
    }

    private static IEnumerable<(double, string)> TopTicks(TrackingCurve curve, ChartAxis x)
    {
        HashSet<double> ticks = [.. x.Ticks().Select(tick => Math.Round(tick, 6))];
        foreach (TrackingPoint point in curve.Points)
            if (ticks.Contains(Math.Round(point.ControlVolts, 6)))
                yield return (point.ControlVolts, Rounded(point.IdealHertz));
    }

    private static string Rounded(double hertz) =>
        hertz < 100 ? hertz.ToString("0.0") : hertz < 10_000 ? hertz.ToString("0") : (hertz / 1000).ToString("0.0") + " k";

    private static string Readings(Proof proof)
    {
        StringBuilder html = new("<h3>Readings</h3>\n<div class=\"wide\"><table>\n<tr><th>Oscillator</th><th class=\"n\">Control</th><th class=\"n\">Ideal</th>");
        double[] kelvins = [.. proof.Tracking.Select(curve => curve.Kelvin).Distinct()];
        foreach (double kelvin in kelvins)
            html.Append($"<th class=\"n\">at {ReportPage.Number(Figures.Celsius(kelvin))}</th><th class=\"n\">error</th>");
        html.Append("</tr>\n");
        foreach (IGrouping<string, TrackingCurve> oscillator in proof.Tracking.GroupBy(curve => curve.Oscillator))
        {
            TrackingCurve[] curves = [.. kelvins.Select(kelvin => oscillator.First(curve => curve.Kelvin == kelvin))];
            for (int i = 0; i < curves[0].Points.Length; i++)
                html.Append(Row(proof, curves, i));
        }
        return html.Append("</table></div>\n<p class=\"soft\">Errors in cents; beyond the limit inside the octaves asked: bold and underlined.</p>\n").ToString();
    }

    private static string Row(Proof proof, TrackingCurve[] curves, int i)
    {
        TrackingPoint first = curves[0].Points[i];
        double from = proof.Limits.LowestVoltage, to = from + proof.Limits.Octaves;
        StringBuilder row = new($"<tr{(i == 0 ? " class=\"first\"" : "")}><td class=\"k\">{(i == 0 ? ReportPage.Encode(curves[0].Oscillator) : "")}</td>");
        row.Append($"<td class=\"n\">{ReportPage.Number($"{first.ControlVolts:0.###} V")}</td><td class=\"n\">{Figures.Hertz(first.IdealHertz)} Hz</td>");
        foreach (TrackingCurve curve in curves)
        {
            TrackingPoint point = curve.Points[i];
            bool isOver = Figures.IsReference(curve.Kelvin)
                && point.ControlVolts >= from - 1e-9
                && point.ControlVolts <= to + 1e-9
                && !(Math.Abs(point.Cents) <= proof.Limits.TrackingCents);
            row.Append($"<td class=\"n\">{Figures.Hertz(point.MeasuredHertz)}</td>");
            row.Append($"<td class=\"n{(isOver ? " over" : "")}\">{ReportPage.Number(Figures.SignedCents(point.Cents))}</td>");
        }
        return row.Append("</tr>\n").ToString();
    }

    private static string Moves(Proof proof)
    {
        if (proof.Temperature.IsEmpty)
            return "";
        StringBuilder html = new("<h3>With temperature, from 25 °C</h3>\n<div class=\"wide\"><table>\n");
        html.Append("<tr><th>Oscillator</th><th class=\"n\">to</th><th class=\"n\">largest move</th><th class=\"n\">at</th>");
        html.Append("<th class=\"n\">cents/K</th><th class=\"n\">scale, cents/octave</th><th>Main cause</th></tr>\n");
        foreach (TemperatureShift shift in proof.Temperature)
        {
            html.Append($"<tr><td class=\"k\">{ReportPage.Encode(shift.Oscillator)}</td>{ReportPage.Cell(Figures.Celsius(shift.Kelvin))}");
            html.Append(ReportPage.Cell(Figures.SignedCents(shift.WorstCents) + " cents")).Append(ReportPage.Cell($"{shift.AtControlVolts:0.###} V"));
            html.Append(ReportPage.Cell(Figures.SignedCents(shift.CentsPerKelvin))).Append(ReportPage.Cell(Figures.SignedCents(shift.CentsPerOctave)));
            html.Append($"<td>{ReportPage.Encode(shift.Cause)}</td></tr>\n");
        }
        return html.Append("</table></div>\n").ToString();
    }
}
