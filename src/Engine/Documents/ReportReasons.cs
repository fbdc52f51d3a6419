using System.Text;
using Consort.Engine.Pitch;

namespace Consort.Engine.Documents;

/// <summary>The report's part that follows each claim from its figure down to parts.</summary>
internal static class ReportReasons
{
    public static string Write(Proof proof)
    {
        StringBuilder html = new("<h2>Why</h2>\n");
        foreach (Claim claim in proof.Claims)
        {
            html.Append($"<h3>{ReportPage.Encode(claim.Key)}</h3>\n<ul class=\"why\">\n");
            Append(html, claim.Why);
            html.Append("</ul>\n");
        }
        return html.ToString();
    }

    internal static string PartText(PartReason part, string unit) =>
        $"{part.Part} {part.Parameter} = {Figures.Si(part.Value, part.Unit)}; {Figures.SignedFine(part.Sensitivity)} {unit}".TrimEnd()
        + $" for {part.SensitivityPer} more";

    /// <summary>True when a leaf's words are no more than its part and parameter, which its value names again.</summary>
    internal static bool NamesOnlyThePart(Reason reason) =>
        reason.Part is { } part && reason.Text == $"{part.Part}: {part.Parameter}";

    private static void Append(StringBuilder html, Reason reason)
    {
        html.Append("<li>");
        if (reason.Value is { } value)
            html.Append($"<b>{ReportPage.Number(Figures.WithUnit(value, reason.Unit ?? ""))}</b> ");
        bool isPlain = NamesOnlyThePart(reason);
        if (!isPlain)
            html.Append(ReportPage.Encode(reason.Text));
        if (reason.Part is { } part)
        {
            string text = ReportPage.Number(PartText(part, reason.Unit ?? ""));
            html.Append(isPlain ? text : $" <span class=\"soft\">({text})</span>");
        }
        if (!reason.Children.IsEmpty)
        {
            html.Append("\n<ul>\n");
            foreach (Reason child in reason.Children)
                Append(html, child);
            html.Append("</ul>\n");
        }
        html.Append("</li>\n");
    }
}
