using Consort.Engine.Documents;
using Consort.Engine.Pitch;

namespace Consort.Cli.Printing;

/// <summary>The chain from a claim's figure down to parts, one step a line, indented.</summary>
internal static class ReasonTree
{
    /// <summary>Prints one claim's chain.</summary>
    public static void Print(Screen screen, Claim claim)
    {
        string bound = claim.Sense == LimitSense.AtMost ? "at most" : "at least";
        screen.Line($"{claim.Key}: {claim.Title}");
        screen.Line(
            $"{Figures.WithUnit(claim.Figure, claim.Unit)}, asked {bound} {Figures.WithUnit(claim.Limit, claim.Unit)}: "
                + (claim.Passed ? "pass" : "MISS")
        );
        Print(screen, claim.Why, 1);
        if (claim.Mend is { } mend)
            screen.Line($"mend: {mend}");
    }

    private static void Print(Screen screen, Reason reason, int depth)
    {
        string figure = reason.Value is { } value ? Figures.WithUnit(value, reason.Unit ?? "") + "  " : "";
        string indent = new(' ', 2 * depth);
        foreach (string text in ReportPage.ReasonLines(reason, reason.Unit ?? ""))
        {
            foreach (string line in Fold(figure + text, screen.Width - indent.Length - 2))
            {
                screen.Line(indent + line);
                indent = new(' ', 2 * depth + 2);
            }
            figure = "";
        }
        foreach (Reason child in reason.Children)
            Print(screen, child, depth + 1);
    }

    private static IEnumerable<string> Fold(string text, int width)
    {
        width = Math.Max(width, 30);
        while (text.Length > width)
        {
            int at = text.LastIndexOf(' ', width);
            if (at <= 0)
                break;
            yield return text[..at];
            text = text[(at + 1)..];
        }
        yield return text;
    }
}
