using Consort.Workbench.Session.Merging;
using Microsoft.AspNetCore.Components;

namespace Consort.Workbench.Screens.Changes;

/// <summary>One line of a difference.</summary>
internal sealed record DiffLine(string Kind, string Sign, string Number, string Text);

/// <summary>The lines that differ between two texts, each with a few around it.</summary>
public sealed partial class DiffView
{
    private const int Around = 2;

    [Parameter, EditorRequired]
    public string Before { get; set; } = "";

    [Parameter, EditorRequired]
    public string After { get; set; } = "";

    private IReadOnlyList<DiffLine> Lines { get; set; } = [];

    protected override void OnParametersSet()
    {
        string[] old = LineDiff.Lines(Before), fresh = LineDiff.Lines(After);
        List<DiffLine> lines = [];
        int shown = 0; // lines of the new text that were dealt with
        foreach (Hunk hunk in LineDiff.Between(old, fresh))
        {
            int from = Math.Max(shown, hunk.NewStart - Around);
            if (from > shown)
                lines.Add(new("gap", "…", "", ""));
            Same(lines, fresh, from, hunk.NewStart);
            for (int i = hunk.OldStart; i < hunk.OldEnd; i++)
                lines.Add(new("goes", "−", "", old[i].TrimEnd('\r', '\n')));
            for (int i = hunk.NewStart; i < hunk.NewStart + hunk.NewCount; i++)
                lines.Add(new("comes", "+", $"{i + 1}", fresh[i].TrimEnd('\r', '\n')));
            shown = hunk.NewStart + hunk.NewCount;
        }
        if (lines.Count > 0)
            Same(lines, fresh, shown, Math.Min(fresh.Length, shown + Around));
        Lines = lines;
    }

    private static void Same(List<DiffLine> lines, string[] text, int from, int to)
    {
        for (int i = from; i < to; i++)
            lines.Add(new("stays", " ", $"{i + 1}", text[i].TrimEnd('\r', '\n')));
    }
}
