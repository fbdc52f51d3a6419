using System.Net;
using System.Reflection;
using System.Text;
using System.Text.RegularExpressions;
using Consort.Engine.Design;
using Consort.Engine.Pitch;

namespace Consort.Engine.Documents;

/// <summary>A proof as one HTML page that needs nothing beside it: text, tables and plots, for screen (light and dark)
/// and print. The same proof gives the same bytes.</summary>
public static partial class ReportPage
{
    /// <summary>The page.</summary>
    public static string Write(Proof proof)
    {
        StringBuilder page = new();
        page.Append("<!DOCTYPE html>\n<html lang=\"en\">\n<head>\n<meta charset=\"utf-8\">\n");
        page.Append("<meta name=\"viewport\" content=\"width=device-width, initial-scale=1\">\n");
        page.Append($"<title>{Encode(proof.Voice)}: does it play as one voice?</title>\n<style>\n{Style()}</style>\n");
        page.Append("</head>\n<body>\n<main>\n");
        page.Append(Head(proof));
        page.Append(Claims(proof));
        page.Append(ReportTracking.Write(proof));
        page.Append(ReportSpread.Write(proof));
        page.Append(ReportChain.Write(proof));
        page.Append(ReportBudget.Write(proof));
        page.Append(ReportTrims.Write(proof));
        page.Append(ReportReasons.Write(proof));
        page.Append(Accuracy(proof));
        page.Append(Sentences("Notes", proof.Notes));
        page.Append(Sentences("What is not modelled", proof.NotModelled));
        page.Append(Foot());
        page.Append("</main>\n</body>\n</html>\n");
        return page.ToString();
    }

    /// <summary>The verdict in one sentence.</summary>
    public static string Verdict(Proof proof)
    {
        int all = proof.Claims.Length, missed = proof.Claims.Count(claim => !claim.Passed);
        return missed == 0
            ? $"Holds: {(all == 1 ? "the one claim passes" : $"all {all} claims pass")}."
            : $"Does not hold: {missed} of {all} claims {(missed == 1 ? "is" : "are")} missed.";
    }

    /// <summary>What the lead carries and what fails first, in one or two sentences.</summary>
    public static string LinkSentence(ChainStudy chain, int? asked) => ReportChain.Sentence(chain, asked);

    /// <summary>What one step of a claim's chain says after its figure.</summary>
    /// <param name="unit">Unit of the figure.</param>
    public static IEnumerable<string> ReasonLines(Reason reason, string unit)
    {
        if (!ReportReasons.NamesOnlyThePart(reason))
            yield return reason.Text;
        if (reason.Part is { } part)
            yield return ReportReasons.PartText(part, unit);
    }

    /// <summary>A trim's purpose in words.</summary>
    public static string TrimWord(TrimPurpose purpose) => ReportTrims.Word(purpose);

    /// <summary>The unit of what one turn does.</summary>
    public static string TrimUnit(TrimPurpose purpose) => ReportTrims.Unit(purpose);

    /// <summary>Text for the page; a number stays on the line of its unit.</summary>
    internal static string Encode(string text) => WebUtility.HtmlEncode(NumberThenUnit().Replace(text, "\u00a0"));

    /// <summary>A figure for a cell: the true minus sign in place of the hyphen.</summary>
    internal static string Number(string figure) => Encode(figure.Replace('-', '−'));

    internal static string Cell(string figure) => $"<td class=\"n\">{Number(figure)}</td>";

    private static string Head(Proof proof) =>
        $"<h1>{Encode(proof.Build is { } build ? $"{proof.Voice}, build {build}" : proof.Voice)}</h1>\n<p>{Encode(proof.About)}</p>\n"
        + $"<div class=\"verdict {(proof.Passed ? "pass" : "miss")}\">{(proof.Passed ? "✓" : "✗")} {Encode(Verdict(proof))}</div>\n";

    private static string Claims(Proof proof)
    {
        StringBuilder html = new("<h2>Claims</h2>\n<div class=\"wide\"><table>\n");
        html.Append("<tr><th>Claim</th><th class=\"n\">Found</th><th class=\"n\">Asked</th><th>Verdict</th><th>Main cause</th></tr>\n");
        foreach (Claim claim in proof.Claims)
        {
            string bound = claim.Sense == LimitSense.AtMost ? "at most" : "at least";
            string verdict = claim.Passed ? "<td class=\"k pass\">✓ pass</td>" : "<td class=\"k miss\">✗ MISS</td>";
            string mend = claim.Mend is { } text ? $"<br><b>Mend:</b> {Encode(text)}" : "";
            html.Append($"<tr><td><b>{Encode(claim.Key)}</b><br><span class=\"soft\">{Encode(claim.Title)}</span></td>");
            html.Append(Cell(Figures.WithUnit(claim.Figure, claim.Unit)));
            html.Append($"<td class=\"n\">{bound} {Number(Figures.WithUnit(claim.Limit, claim.Unit))}</td>{verdict}");
            html.Append($"<td>{Encode(claim.Cause)}{mend}</td></tr>\n");
        }
        return html.Append("</table></div>\n").ToString();
    }

    private static string Accuracy(Proof proof)
    {
        if (proof.Accuracy.IsEmpty)
            return "";
        StringBuilder html = new("<h2>How good these figures are</h2>\n<p>Each line is a comparison that was run for this page.</p>\n<div class=\"wide\"><table>\n");
        html.Append("<tr><th>Figure</th><th class=\"n\">Largest disagreement</th><th>Compared with</th></tr>\n");
        foreach (AccuracyNote note in proof.Accuracy)
            html.Append($"<tr><td>{Encode(note.What)}</td>{Cell(Figures.WithUnit(note.Figure, note.Unit))}<td>{Encode(note.Against)}</td></tr>\n");
        return html.Append("</table></div>\n").ToString();
    }

    private static string Sentences(string title, IReadOnlyCollection<string> sentences)
    {
        if (sentences.Count == 0)
            return "";
        StringBuilder html = new($"<h2>{title}</h2>\n<ul>\n");
        foreach (string sentence in sentences)
            html.Append($"<li>{Encode(sentence)}</li>\n");
        return html.Append("</ul>\n").ToString();
    }

    private static string Foot() =>
        "<p class=\"soft\">Computed from the design with its stated part values; no built unit was measured. "
        + $"Consort {typeof(ReportPage).Assembly.GetName().Version?.ToString(3)}.</p>\n";

    [GeneratedRegex("(?<=[0-9]) (?=(cents?|octaves?|followers?|ppm|[%°]|dB|[fpnµmkMG]?(V|A|Ω|F|H|Hz|s|K|W)\\b))", RegexOptions.ExplicitCapture, matchTimeoutMilliseconds: 1000)]
    private static partial Regex NumberThenUnit();

    /// <summary>The page's style sheet, its charts' too.</summary>
    internal static string Style()
    {
        using Stream stream = Assembly.GetExecutingAssembly().GetManifestResourceStream("Consort.Engine.Documents.report.css")!;
        using StreamReader reader = new(stream);
        return reader.ReadToEnd();
    }
}
