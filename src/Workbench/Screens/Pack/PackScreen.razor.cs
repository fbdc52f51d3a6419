using System.Collections.Immutable;
using System.Text;
using Consort.Engine.Design;
using Consort.Engine.Documents.Files;
using Consort.Engine.Documents.Packs;
using Consort.Engine.Documents.Panels;
using Consort.Engine.Pitch;
using Consort.Workbench.Session;
using Microsoft.AspNetCore.Components;

namespace Consort.Workbench.Screens.Pack;

/// <summary>What does a customer build from?</summary>
public sealed partial class PackScreen
{
    private ImmutableArray<(string Name, int Bytes)> files = [];
    private string? archive;
    private string? trouble;
    private string name = "";
    private bool filled;
    private int broken;
    private long revision;

    private async Task Make(ReadDesign design)
    {
        trouble = null;
        PanelSet panels = PanelSet.Of(design.Voice, design.Texts.Find);
        PackMaker maker = new(design.Stock, VoiceFolder.Library(design.Texts), Environment.ProcessorCount);
        bool isDone = await Run("listing parts", async (progress, cancel) =>
        {
            (PackContent? content, Unproved? failure) = await Task.Run(() => maker.Make(design.Voice, panels, progress, cancel), cancel);
            if (content is null)
                trouble = $"{failure!.What}. Mend: {failure.Mend}";
            else
                await Keep(design, content, panels);
        });
        if (!isDone)
            trouble = "cancelled";
    }

    // The texts as they are being edited go along, saved or not: what is read in the pack is what was computed.
    private async Task Keep(ReadDesign design, PackContent content, PanelSet panels)
    {
        ImmutableArray<(string, byte[])> texts = [.. design.Texts.Files.Where(file => file.Value is not null).Select(file => (file.Key, Encoding.UTF8.GetBytes(file.Value!.Text)))];
        name = $"{PackFiles.NameOf(design.Voice)}-pack";
        (ImmutableArray<(string Name, byte[] Content)> made, byte[] zip) = await Task.Run(() =>
        {
            ImmutableArray<(string Name, byte[] Content)> all = PackFiles.Of(content, texts, filled);
            return (all, SteadyZip.Pack(all.Select(file => ($"{name}/{file.Name}", file.Content))));
        });
        Shelf.Clear();
        archive = Shelf.Put($"{name}.zip", zip);
        files = [.. made.Select(file => (file.Name, file.Content.Length))];
        broken = panels.Panels.Sum(panel => panel.Findings.Count(finding => !finding.IsNote));
        revision = design.Revision;
    }
}
