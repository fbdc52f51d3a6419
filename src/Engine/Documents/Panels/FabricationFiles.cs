using System.Collections.Immutable;
using System.Globalization;
using System.Text;

namespace Consort.Engine.Documents.Panels;

/// <summary>A panel as a circuit board: images in Gerber X2, holes in XNC (Ucamco, XNC Format Specification).</summary>
public static class FabricationFiles
{
    private const double PourInset = 0.5; // mm from the edge to the copper: a milled edge must not tear it
    private const double HoleClearance = 0.5; // mm between copper and a hole
    private const double MaskClearance = 0.1; // mm around a hole without solder mask
    private const double ProfilePen = 0.1; // mm; the outline is the middle of the pen

    /// <summary>All files of a panel: names and contents.</summary>
    /// <param name="filled">True for copper over the whole sheet on both sides; false for none.</param>
    public static ImmutableArray<(string Name, string Content)> Of(PanelDrawing panel, bool filled)
    {
        string version = typeof(FabricationFiles).Assembly.GetName().Version is { } v ? $"{v.Major}.{v.Minor}.{v.Build}" : "";
        return
        [
            ($"{panel.File}-copper-top.gbr", Copper(panel, filled, "Copper,L1,Top", version)),
            ($"{panel.File}-copper-bottom.gbr", Copper(panel, filled, "Copper,L2,Bot", version)),
            ($"{panel.File}-mask-top.gbr", Mask(panel, "Soldermask,Top", version)),
            ($"{panel.File}-mask-bottom.gbr", Mask(panel, "Soldermask,Bot", version)),
            ($"{panel.File}-legend-top.gbr", Legend(panel, version)),
            ($"{panel.File}-profile.gbr", Profile(panel, version)),
            ($"{panel.File}-holes.xnc", Holes(panel)),
        ];
    }

    private static string Copper(PanelDrawing panel, bool filled, string function, string version)
    {
        GerberText image = new(function, isNegative: false, version);
        if (!filled)
            return image.ToString();
        (double left, double right, double top) = (PourInset, panel.Width - PourInset, panel.Height - PourInset);
        image.Region([new(left, left), new(right, left), new(right, top), new(left, top), new(left, left)], "Conductor").Clears(true);
        foreach (PanelHole hole in panel.Holes)
            image.Draw(Path(hole), hole.Diameter + (2 * HoleClearance), "AntiPad");
        return image.ToString();
    }

    private static string Mask(PanelDrawing panel, string function, string version)
    {
        GerberText image = new(function, isNegative: true, version);
        foreach (PanelHole hole in panel.Holes)
            image.Draw(Path(hole), hole.Diameter + (2 * MaskClearance), "Material");
        return image.ToString();
    }

    private static string Legend(PanelDrawing panel, string version)
    {
        GerberText image = new("Legend,Top", isNegative: false, version);
        foreach (Stroke stroke in panel.Legend)
            image.Draw(stroke.Points, stroke.Width, "Material");
        return image.ToString();
    }

    private static string Profile(PanelDrawing panel, string version) =>
        new GerberText("Profile,NP", isNegative: false, version)
            .Draw([new(0, 0), new(panel.Width, 0), new(panel.Width, panel.Height), new(0, panel.Height), new(0, 0)], ProfilePen, "Profile")
            .ToString();

    // The slot's middle line; a round hole is a line of one point.
    private static ImmutableArray<Spot> Path(PanelHole hole) => hole.Travel > 0 ? [hole.From, hole.To] : [hole.Middle];

    private static string Holes(PanelDrawing panel)
    {
        double[] tools = [.. panel.Holes.Select(hole => hole.Diameter).Distinct().Order()];
        StringBuilder text = new("M48\n; #@! TF.FileFunction,NonPlated,1,2,NPTH\n; #@! TF.SameCoordinates,panel\nMETRIC\n");
        for (int i = 0; i < tools.Length; i++)
            text.Append(CultureInfo.InvariantCulture, $"T{i + 1:00}C{tools[i]:0.000}\n");
        text.Append("%\n");
        text.Append("G05\n");
        foreach ((PanelHole[] round, int tool) in ByTool(isSlot: false))
        {
            text.Append(CultureInfo.InvariantCulture, $"T{tool:00}\n");
            foreach (PanelHole hole in round)
                text.Append(Place(hole.Middle)).Append('\n');
        }
        foreach ((PanelHole[] slots, int tool) in ByTool(isSlot: true)) // last: some readers never find back to drilling
        {
            text.Append(CultureInfo.InvariantCulture, $"T{tool:00}\n");
            foreach (PanelHole slot in slots)
                text.Append(CultureInfo.InvariantCulture, $"G00{Place(slot.From)}\nM15\nG01{Place(slot.To)}\nM16\n");
        }
        return text.Append("M30\n").ToString();

        IEnumerable<(PanelHole[] Holes, int Tool)> ByTool(bool isSlot) =>
            panel.Holes.Where(hole => hole.Travel > 0 == isSlot).GroupBy(hole => hole.Diameter).OrderBy(group => group.Key).Select(group => (group.ToArray(), Array.IndexOf(tools, group.Key) + 1));
    }

    private static string Place(Spot at) => string.Create(CultureInfo.InvariantCulture, $"X{at.X:0.000}Y{at.Y:0.000}");
}
