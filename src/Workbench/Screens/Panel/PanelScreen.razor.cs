using System.Text;
using Consort.Engine.Design;
using Consort.Engine.Documents;
using Consort.Engine.Documents.Files;
using Consort.Engine.Documents.Panels;
using Consort.Workbench.Session;
using Microsoft.AspNetCore.Components;

namespace Consort.Workbench.Screens.Panel;

/// <summary>What do the panels look like, and can they be made? Drawn anew with every change of the texts.</summary>
public sealed partial class PanelScreen
{
    private readonly Dictionary<string, string> pictures = new(StringComparer.Ordinal);
    private PanelSet? set;
    private string? archive;
    private long revision = -1;

    /// <inheritdoc/>
    protected override void OnInitialized()
    {
        base.OnInitialized();
        Draw();
    }

    /// <inheritdoc/>
    protected override void Renew() =>
        _ = InvokeAsync(() =>
        {
            Draw();
            StateHasChanged();
        });

    private static TextPlace PanelText(string module, string entry) => new(DesignTexts.FileOf(module), "panel", entry);

    // A jack that says none bears its label.
    private static string? Legend(CheckedPanel panel, PanelHole hole) => panel.Module.Panel.Layout?.Places.FirstOrDefault(place => place.Part == hole.Name)?.Legend;

    private void Draw()
    {
        if (Session.State.Design is not { } design || design.Revision == revision)
            return;
        revision = design.Revision;
        set = PanelSet.Of(design.Voice, design.Texts.Find);
        Shelf.Clear();
        pictures.Clear();
        foreach (CheckedPanel panel in set.Panels)
            pictures[panel.Drawing.File] = Shelf.Put($"{panel.Drawing.File}.svg", Encoding.UTF8.GetBytes(SvgPanel.Write(panel.Drawing)));
        archive = set.Panels.IsEmpty ? null : Shelf.Put("panels.zip", SteadyZip.Pack(PanelFiles.Of(set, design.Voice.Name, filled: false).Select(file => (file.Name, file.Content))));
    }
}
