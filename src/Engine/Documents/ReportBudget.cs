using System.Text;
using Consort.Engine.Design;
using Consort.Engine.Pitch;

namespace Consort.Engine.Documents;

/// <summary>The report's part on where the tracking error comes from: by cause, then by part.</summary>
internal static class ReportBudget
{
    private const int PartsShown = 12;

    public static string Write(Proof proof)
    {
        if (proof.Budgets.IsEmpty)
            return "";
        StringBuilder html = new("<h2>Where the tracking error comes from</h2>\n");
        html.Append("<p>What each departure from the ideal adds after trimming, at 25 °C. Shares of one sign can cancel those of the other. Tables: cents at each control voltage.</p>\n");
        foreach (Budget budget in proof.Budgets)
        {
            html.Append($"<h3>{ReportPage.Encode(budget.Oscillator)}</h3>\n");
            html.Append(Bars(budget)).Append(Parts(budget));
        }
        return html.ToString();
    }

    /// <summary>Cents of one cause at each octave: the sum over its lines.</summary>
    internal static IEnumerable<(Cause Cause, double[] Cents)> ByCause(Budget budget) =>
        budget
            .Lines.GroupBy(line => line.Cause)
            .Select(group => (group.Key, Sum(group, budget.ControlVolts.Length)))
            .OrderByDescending(cause => cause.Item2.Max(Math.Abs));

    private static double[] Sum(IEnumerable<BudgetLine> lines, int octaves)
    {
        double[] sum = new double[octaves];
        foreach (BudgetLine line in lines)
            for (int i = 0; i < octaves; i++)
                sum[i] += line.Cents[i];
        return sum;
    }

    private static string Bars(Budget budget)
    {
        (Cause Cause, double[] Cents)[] causes = [.. ByCause(budget)];
        if (causes.Length == 0)
            return "";
        double most = Math.Max(1e-9, causes.Max(cause => cause.Cents.Max(Math.Abs)));
        StringBuilder svg = new();
        double height = 22 * causes.Length + 8;
        svg.Append($"<svg viewBox=\"0 0 700 {height:0}\" width=\"700\" height=\"{height:0}\" role=\"img\" aria-label=\"Largest tracking error by cause\">\n");
        for (int i = 0; i < causes.Length; i++)
        {
            int worst = Array.FindIndex(causes[i].Cents, cents => Math.Abs(cents) == causes[i].Cents.Max(Math.Abs));
            double length = Math.Max(1, 380 * Math.Abs(causes[i].Cents[worst]) / most), y = 4 + 22 * i;
            string text = $"{Figures.SignedCents(causes[i].Cents[worst])} cents at {budget.ControlVolts[worst]:0.###} V";
            svg.Append($"<text x=\"88\" y=\"{y + 13:0.#}\" text-anchor=\"end\">{causes[i].Cause.ToString().ToLowerInvariant()}</text>");
            svg.Append($"<rect class=\"bar{(causes[i].Cents[worst] < 0 ? " flat" : "")}\" x=\"94\" y=\"{y:0.#}\" width=\"{length:0.#}\" height=\"16\"/>");
            svg.Append($"<text x=\"{94 + length + 6:0.#}\" y=\"{y + 13:0.#}\">{ReportPage.Number(text)}</text>\n");
        }
        svg.Append("</svg>");
        return $"<figure>\n{svg}\n<figcaption>By cause: the largest amount of each, and where. Solid: sharp; hollow: flat.</figcaption>\n</figure>\n";
    }

    private static string Parts(Budget budget)
    {
        StringBuilder html = new("<div class=\"wide\"><table class=\"dense\">\n<tr><th>Part</th><th class=\"n\">Value</th><th>Cause</th><th class=\"n\">Share</th>");
        foreach (double volts in budget.ControlVolts)
            html.Append($"<th class=\"n\">{ReportPage.Number($"{volts:0.###} V")}</th>");
        html.Append("</tr>\n");
        foreach (BudgetLine line in budget.Lines.Take(PartsShown))
        {
            html.Append($"<tr><td>{ReportPage.Encode(line.Part)} <span class=\"soft\">{ReportPage.Encode(line.Parameter)}</span></td>{ReportPage.Cell(Figures.Si(line.Value, line.Unit))}");
            html.Append($"<td>{line.Cause.ToString().ToLowerInvariant()}</td>{ReportPage.Cell($"{100 * line.Share:0.0} %")}{Octaves(line.Cents)}</tr>\n");
        }
        if (budget.Lines.Length > PartsShown)
            html.Append(Rest($"{budget.Lines.Length - PartsShown} smaller", Sum(budget.Lines.Skip(PartsShown), budget.ControlVolts.Length)));
        html.Append(Rest("not explained by parts", budget.UnexplainedCents));
        return html.Append("</table></div>\n").ToString();
    }

    private static string Rest(string text, IEnumerable<double> cents) =>
        $"<tr class=\"rest\"><td colspan=\"4\">{text}</td>{Octaves(cents)}</tr>\n";

    private static string Octaves(IEnumerable<double> cents) =>
        string.Concat(cents.Select(value => ReportPage.Cell(Figures.SignedCents(value))));
}
