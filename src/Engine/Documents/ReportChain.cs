using System.Text;
using Consort.Engine.Pitch;

namespace Consort.Engine.Documents;

/// <summary>The report's part on the link: pitch error, drive and peaking against the number of followers.</summary>
internal static class ReportChain
{
    public static string Write(Proof proof)
    {
        if (proof.Chain is not { } chain || chain.Points.IsEmpty)
            return "";
        StringBuilder html = new("<h2>Followers on the link</h2>\n");
        html.Append($"<p><b>{ReportPage.Encode(Sentence(chain, proof.Limits.Followers))}</b></p>\n");
        html.Append(Error(proof, chain)).Append("<div class=\"pair\">\n").Append(Drive(chain)).Append(Peaking(chain));
        return html.Append("</div>\n").Append(Table(chain)).ToString();
    }

    internal static string Sentence(ChainStudy chain, int? asked)
    {
        int most = chain.Points[^1].Followers;
        string carries = chain.Largest < 0 ? $"{chain.Lead} fails even without a follower"
            : chain.FirstFailure is null ? $"{chain.Lead} carries all {most} followers that were tried"
            : $"{chain.Lead} carries {Figures.WithUnit(chain.Largest, "followers")}";
        string asks = asked is { } number ? $"; {number} {(number == 1 ? "is" : "are")} asked" : "";
        string fails = chain.FirstFailure is { } what ? $" Fails first: {what}." : "";
        string mend = chain.Mend is { } way ? $" Mend: {way}." : "";
        return $"{carries}{asks}.{fails}{mend}";
    }

    private static string Error(Proof proof, ChainStudy chain)
    {
        double limit = proof.Limits.FollowerCents;
        ChartAxis y = ChartAxis.Holding(chain.Points.Select(point => Math.Abs(point.WorstCents)), "worst follower, cents off the lead", limit * 1.1) with { Low = 0 };
        Chart chart = Plot(chain, y, 930, 280, "Pitch error of the worst follower against the number of followers", "limit", "error")
            .Band(0, limit)
            .Level(limit, "limit")
            .Line("error", [.. chain.Points.Select(point => ((double)point.Followers, Math.Abs(point.WorstCents)))], 0);
        return Figure(Mark(chart, chain), "Pitch error of the worst follower against the lead.");
    }

    private static string Drive(ChainStudy chain)
    {
        ChartAxis y = ChartAxis.Holding(chain.Points.Select(point => 1e3 * point.DriveLeftAmps), "drive left, mA", 0.5, 5);
        Chart chart = Plot(chain, y, 460, 250, "Current that the busiest link buffer has left", "overload", "drive")
            .Level(0, "overload")
            .Line("drive", [.. chain.Points.Select(point => ((double)point.Followers, 1e3 * point.DriveLeftAmps))], 1);
        return Figure(Mark(chart, chain), "Current that the busiest link buffer has left; below zero it is overloaded.");
    }

    private static string Peaking(ChainStudy chain)
    {
        ChartAxis y = ChartAxis.Holding(chain.Points.Select(point => point.PeakingDb), "peaking, dB", 1, 5) with { Low = 0 };
        Chart chart = Plot(chain, y, 460, 250, "Peaking of the worst link buffer", "unstable", "peaking")
            .Line("peaking", [.. chain.Points.Select(point => ((double)point.Followers, point.PeakingDb))], 2);
        string unstable = chain.Points.FirstOrDefault(point => double.IsPositiveInfinity(point.PeakingDb)) is { } first
            ? $" Unstable from {Figures.WithUnit(first.Followers, "followers")} on."
            : "";
        return Figure(Mark(chart, chain), "Peaking of the worst link buffer into the ribbon." + unstable);
    }

    private static Chart Plot(ChainStudy chain, ChartAxis y, double width, double height, string description, params string[] labels) =>
        new Chart(width, height, ChartAxis.Exactly(0, chain.Points[^1].Followers, "followers on the link", width > 600 ? 16 : 8), y, description)
            .LabelsFrom(labels);

    private static string Mark(Chart chart, ChainStudy chain) =>
        (chain.Largest >= 0 && chain.FirstFailure is not null ? chart.Position(chain.Largest, $"carries {chain.Largest}") : chart).Render();

    private static string Figure(string svg, string caption) =>
        $"<figure>\n{svg}\n<figcaption>{caption}</figcaption>\n</figure>\n";

    private static string Table(ChainStudy chain)
    {
        StringBuilder html = new("<div class=\"wide\"><table>\n<tr><th class=\"n\">Followers</th><th class=\"n\">Worst error</th><th>of</th>");
        html.Append("<th class=\"n\">Drive left</th><th class=\"n\">Peaking</th><th class=\"n\">Ground offset</th><th class=\"n\">Rail drop</th><th>Verdict</th></tr>\n");
        foreach (ChainPoint point in chain.Points)
        {
            string peaking = double.IsPositiveInfinity(point.PeakingDb) ? "unstable" : $"{point.PeakingDb:0.0} dB";
            html.Append($"<tr>{ReportPage.Cell($"{point.Followers}")}{ReportPage.Cell(Figures.SignedCents(point.WorstCents) + " cents")}");
            html.Append($"<td class=\"k\">{ReportPage.Encode(point.WorstFollower)}</td>");
            html.Append(ReportPage.Cell(double.IsFinite(point.DriveLeftAmps) ? Figures.Si(point.DriveLeftAmps, "A") : "-")).Append(ReportPage.Cell(peaking));
            html.Append(ReportPage.Cell(Figures.Si(point.GroundOffsetVolts, "V"))).Append(ReportPage.Cell(Figures.Si(point.RailDropVolts, "V")));
            html.Append(point.Passed ? "<td class=\"k pass\">✓ pass</td></tr>\n" : $"<td class=\"miss\">✗ {ReportPage.Encode(point.FirstFailure ?? "MISS")}</td></tr>\n");
        }
        return html.Append("</table></div>\n").ToString();
    }
}
