using System.Globalization;
using System.Text;
using Consort.Engine.Pitch;
using Consort.Engine.Pitch.Builds.Spread;
using Consort.Engine.Quantities;

namespace Consort.Engine.Documents;

/// <summary>The report's part on builds: yield against each limit, the band of pitch errors, trimmers, parts.</summary>
internal static class ReportSpread
{
    private const double Sigmas = 2;
    private const int MostParts = 16;

    public static string Write(Proof proof)
    {
        if (proof.Spread is not { } spread)
            return "";
        StringBuilder html = new("<h2>Builds</h2>\n<p>");
        html.Append(ReportPage.Encode(
            $"{spread.Builds.ToString("N0", CultureInfo.InvariantCulture)} builds, every part drawn within its limits ({spread.Points}), each trimmed at 25 °C as its sheet says: "
                + $"{ShareText.Write(spread.Yield.Share)} keep every limit (95 % interval {ShareText.Write(spread.Yield.Low)} to {ShareText.Write(spread.Yield.High)})."));
        html.Append("</p>\n").Append(Limits(spread));
        if (spread.Lag is { } lag)
            html.Append($"<p>{ReportPage.Encode(SpreadWords.Write(lag))}</p>\n");
        foreach (IGrouping<double, SpreadBand> group in spread.Notes.GroupBy(band => band.Kelvin).OrderBy(group => Figures.IsReference(group.Key) ? 0 : group.Key))
            html.Append(Band(proof, [.. group]));
        return html.Append(Trimmers(spread)).Append(Followers(spread)).Append(Parts(spread)).ToString();
    }

    private static string Limits(SpreadResult spread)
    {
        StringBuilder html = new("<div class=\"wide\"><table>\n<tr><th>Limit</th><th class=\"n\">Cents</th><th class=\"n\">Half within</th><th class=\"n\">19 of 20 within</th><th class=\"n\">Worst</th><th class=\"n\">Kept by</th></tr>\n");
        foreach (SpreadFigure figure in spread.Figures)
        {
            html.Append($"<tr><td><b>{ReportPage.Encode(figure.Key)}</b><br><span class=\"soft\">{ReportPage.Encode(figure.Title)}</span></td>");
            foreach (double cents in (double[])[figure.Limit, figure.Median, figure.Most, figure.Worst])
                html.Append(ReportPage.Cell(Figures.CentsOrNone(cents)));
            html.Append(ReportPage.Cell(ShareText.Write(figure.Kept.Share))).Append("</tr>\n");
        }
        return html.Append("</table></div>\n").ToString();
    }

    // Two standard deviations either way of the mean.
    private static string Band(Proof proof, SpreadBand[] bands)
    {
        double limit = proof.Limits.TrackingCents;
        double kelvin = bands[0].Kelvin;
        ChartAxis x = ChartAxis.Exactly(bands[0].ControlVolts[0], bands[0].ControlVolts[^1], "control voltage, V");
        ChartAxis y = ChartAxis.Holding(bands.SelectMany(band => band.Mean.Select((m, i) => Math.Abs(m) + Sigmas * band.Deviation[i])).SelectMany(c => (double[])[c, -c]), "error, cents", limit * 1.1);
        Chart chart = new Chart(930, 300, x, y, $"Pitch errors of builds at {Figures.Celsius(kelvin)}").LabelsFrom([.. bands.Select(band => band.Oscillator), "limit"]);
        if (Figures.IsReference(kelvin)) // elsewhere the move is limited, not the error
            chart.Level(limit, "limit").Level(-limit, "limit");
        for (int i = 0; i < bands.Length; i++)
            foreach (double sign in (double[])[1, -1])
            {
                SpreadBand band = bands[i];
                chart.Line(band.Oscillator, [.. band.ControlVolts.Select((v, n) => (v, band.Mean[n] + sign * Sigmas * band.Deviation[n]))], i, labelled: sign > 0);
            }
        string caption = Figures.IsReference(kelvin) ? ", where they are trimmed" : ", trimmed at 25 °C";
        return $"<figure>\n{chart.Render()}\n<figcaption><b>{ReportPage.Number(Figures.Celsius(kelvin))}</b>{caption}: 95 of 100 builds lie between each oscillator's two lines (two standard deviations either way).</figcaption>\n</figure>\n";
    }

    private static string Trimmers(SpreadResult spread)
    {
        if (spread.Trimmers.IsEmpty)
            return "";
        StringBuilder html = new("<h3>Trimmers in builds</h3>\n<div class=\"wide\"><table>\n<tr><th>Oscillator</th><th>Trimmer</th><th>For</th><th class=\"n\">Nine of ten stand</th><th class=\"n\">Middle</th><th class=\"n\">At an end</th><th class=\"n\">A degree is</th><th class=\"n\">Finest step</th></tr>\n");
        foreach (TrimmerUse use in spread.Trimmers)
        {
            html.Append($"<tr><td class=\"k\">{ReportPage.Encode(use.Oscillator)}</td><td class=\"k\">{ReportPage.Encode(use.Trimmer)}</td><td class=\"k\">{ReportTrims.Word(use.Purpose)}</td>");
            html.Append(ReportPage.Cell($"{100 * use.Low:0} to {100 * use.High:0} %")).Append(ReportPage.Cell($"{100 * use.Median:0} %"));
            html.Append(ReportPage.Cell(use.RunsOut.Passed == 0 ? "never" : $"{ShareText.Write(use.RunsOut.Share)}, {Figures.CentsOrNone(use.MissingCents)} cents short"));
            html.Append(ReportPage.Cell($"{use.CentsPerDegree:+0.000;-0.000} cents")).Append(ReportPage.Cell($"{use.Step:0.00} cents")).Append("</tr>\n");
        }
        return html.Append("</table></div>\n<p class=\"soft\">Per cent of the turn from the counter-clockwise end.</p>\n").ToString();
    }

    private static string Followers(SpreadResult spread)
    {
        if (spread.Followers.IsEmpty)
            return "";
        IGrouping<string, FollowerWander>[] groups = [.. spread.Followers.GroupBy(f => f.Follower)];
        StringBuilder html = new("<h3>Followers against their lead</h3>\n<div class=\"wide\"><table>\n<tr><th>Follower</th><th></th>");
        foreach (FollowerWander at in groups[0])
            html.Append($"<th class=\"n\">{ReportPage.Number($"{at.ControlVolts:0.##} V")}</th>");
        html.Append("</tr>\n");
        foreach (IGrouping<string, FollowerWander> group in groups)
        {
            html.Append($"<tr><td class=\"k\">{ReportPage.Encode(group.Key)}</td><td>cents</td>{string.Concat(group.Select(f => ReportPage.Cell(Figures.CentsOrNone(f.MostCents))))}</tr>\n");
            html.Append($"<tr><td></td><td>beats a second</td>{string.Concat(group.Select(f => ReportPage.Cell(f.MostBeats.ToString("0.00", CultureInfo.InvariantCulture))))}</tr>\n");
        }
        return html.Append("</table></div>\n<p class=\"soft\">Nineteen of twenty builds wander less, at any of the three temperatures.</p>\n").ToString();
    }

    private static string Parts(SpreadResult spread)
    {
        if (spread.Shares.IsEmpty)
            return "";
        StringBuilder html = new("<h3>What the parts bring</h3>\n<div class=\"wide\"><table>\n<tr><th>Part</th><th>What varies</th><th class=\"n\">of tracking</th><th class=\"n\">of drift</th><th class=\"n\">of followers</th><th class=\"n\">give or take</th></tr>\n");
        foreach (PartShare share in spread.Shares.Take(MostParts))
        {
            html.Append($"<tr><td class=\"k\">{ReportPage.Encode(share.Part)}</td><td>{ReportPage.Encode(share.Parameter)}</td>");
            foreach (double value in (double[])[share.Tracking, share.Drift, share.Followers, share.Error])
                html.Append(ReportPage.Cell(ShareText.Write(value)));
            html.Append("</tr>\n");
        }
        return html
            .Append("</table></div>\n<p class=\"soft\">Squared correlation of each part's departure with what trimming leaves: its linear share of the variance, from 4,096 builds at most. What the shares leave of 100 % belongs to how finely trimmers can be set, to bends, and to parts acting together.</p>\n")
            .ToString();
    }
}
