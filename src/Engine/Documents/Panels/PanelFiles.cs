using System.Collections.Immutable;
using System.Text;

namespace Consort.Engine.Documents.Panels;

/// <summary>All files of a voice's panels.</summary>
public static class PanelFiles
{
    /// <summary>Names and contents: drawings, then files for manufacture, of each module; then all panels on paper.</summary>
    public static ImmutableArray<(string Name, byte[] Content)> Of(PanelSet set, string voice, bool filled) =>
        [
            .. set.Panels.SelectMany(panel => Drawings(panel.Drawing).Concat(FabricationFiles.Of(panel.Drawing, filled))).Select(file => (file.Name, Encoding.UTF8.GetBytes(file.Content))),
            ("panels.pdf", PdfPanel.Write([.. set.Panels.Select(panel => panel.Drawing)], $"{voice}: panels")),
        ];

    private static IEnumerable<(string Name, string Content)> Drawings(PanelDrawing panel) =>
        [($"{panel.File}.svg", SvgPanel.Write(panel)), ($"{panel.File}.dxf", DxfPanel.Write(panel))];
}
