using System.Text;
using Consort.Engine.Design;
using Consort.Engine.Pitch;

namespace Consort.Engine.Documents;

/// <summary>The report's part on trimmers: where each came to stand and how much travel is left.</summary>
internal static class ReportTrims
{
    public static string Write(Proof proof)
    {
        if (proof.Trims.IsEmpty)
            return "";
        StringBuilder html = new("<h2>Trims</h2>\n<div class=\"wide\"><table>\n");
        html.Append("<tr><th>Oscillator</th><th>Trimmer</th><th>For</th><th>Stands</th><th class=\"n\">Position</th><th class=\"n\">Range used</th><th class=\"n\">One turn does</th><th></th></tr>\n");
        foreach (TrimResult trim in proof.Trims)
        {
            html.Append($"<tr><td class=\"k\">{ReportPage.Encode(trim.Oscillator)}</td><td class=\"k\">{ReportPage.Encode(trim.Trimmer)}</td><td class=\"k\">{Word(trim.Purpose)}</td>");
            html.Append($"<td>{Slider(trim.Position)}</td>{ReportPage.Cell($"{100 * trim.Position:0.0} %")}{ReportPage.Cell($"{100 * trim.RangeUsed:0} %")}");
            html.Append(ReportPage.Cell(trim.Purpose == TrimPurpose.Other ? "" : Figures.SignedCents(trim.CentsPerTurn) + " " + Unit(trim.Purpose)));
            html.Append(trim.Reached ? "<td class=\"pass\">✓ reached</td></tr>\n" : "<td class=\"miss\">✗ AT ITS END</td></tr>\n");
        }
        html.Append("</table></div>\n<p class=\"soft\">Position from the counter-clockwise end. Range used: 0 % is the middle, 100 % an end.</p>\n");
        return html.ToString();
    }

    internal static string Word(TrimPurpose purpose) =>
        purpose switch
        {
            TrimPurpose.Tracking => "tracking",
            TrimPurpose.Centre => "centre",
            TrimPurpose.HighEnd => "high end",
            _ => "other",
        };

    internal static string Unit(TrimPurpose purpose) => purpose == TrimPurpose.Tracking ? "cents/octave" : "cents";

    private static string Slider(double position) =>
        "<svg viewBox=\"0 0 124 16\" width=\"124\" height=\"16\" aria-hidden=\"true\"><rect class=\"track\" x=\"2\" y=\"5.5\" width=\"120\" height=\"5\"/>"
        + "<line class=\"zero\" x1=\"62\" x2=\"62\" y1=\"3\" y2=\"13\"/>"
        + $"<rect class=\"knob\" x=\"{Math.Clamp(position, 0, 1) * 116 + 1:0.#}\" y=\"1\" width=\"6\" height=\"14\"/></svg>";
}
