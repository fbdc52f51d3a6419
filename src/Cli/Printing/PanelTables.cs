using Consort.Engine.Documents;
using Consort.Engine.Documents.Panels;
using Spectre.Console;

namespace Consort.Cli.Printing;

/// <summary>Panels on the terminal: size, holes, verdict.</summary>
internal static class PanelTables
{
    /// <summary>Prints all of them; findings went to the error stream with their places.</summary>
    public static void Print(Screen screen, PanelSet set, string? folder, IReadOnlyCollection<string> files)
    {
        foreach (CheckedPanel panel in set.Panels)
        {
            if (panel != set.Panels[0])
                screen.Line();
            int broken = panel.Findings.Count(finding => !finding.IsNote);
            screen.Line($"{panel.Drawing.Name}: sheet {panel.Drawing.Width:0.##} by {panel.Drawing.Height:0.##} mm, {panel.Drawing.Holes.Length} holes, {(broken == 0 ? "no rule broken" : $"{Figures.WithUnit(broken, "rules")} BROKEN")}");
            screen.Write(Holes(panel.Drawing));
        }
        if (files.Count > 0)
        {
            screen.Line();
            screen.Line($"{files.Count} files written to {folder}");
        }
    }

    private static Table Holes(PanelDrawing panel)
    {
        Table table = Screen.Columns(("hole", false), ("from left", true), ("from top", true), ("diameter", true), ("travel", true));
        foreach (PanelHole hole in panel.Holes)
            Screen.Row(table, hole.Name, $"{hole.Middle.X:0.00}", $"{panel.Height - hole.Middle.Y:0.00}", $"{hole.Diameter:0.0}", hole.Travel > 0 ? $"{hole.Travel:0.0}" : "");
        return table;
    }
}
