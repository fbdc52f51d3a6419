using System.Collections.Immutable;
using Consort.Engine.Design;
using Consort.Engine.Documents.Files;
using Consort.Engine.Documents.Panels;
using Consort.Engine.Documents.Parts;
using Consort.Engine.Documents.Plans;
using Consort.Engine.Orders;

namespace Consort.Engine.Documents.Packs;

/// <summary>The guide that a builder builds from: cautions, parts, assembly, first power-up, trimming, check, patch, drawings.</summary>
public static class Guide
{
    /// <summary>The document (PDF), the same to the byte for the same content.</summary>
    public static byte[] Write(PackContent content)
    {
        using Paper paper = new($"{content.Voice.Name}: building guide");
        PaperFlow flow = new(paper);
        (PaperPage contents, double at) = Front(flow, content.Voice);
        Parts(flow, content.Order);
        Assembly(flow, content.Order);
        GuidePower.Write(flow, content);
        GuideTrims.Write(flow, content);
        GuideCheck.Write(flow, content);
        Patch(flow, content);
        int drawings = paper.Pages.Count + 1;
        foreach (CheckedPanel panel in content.Panels.Panels)
            PdfPanel.Draw(paper, panel.Drawing);
        Contents(contents, at, [.. flow.Headings, .. content.Panels.Panels.IsEmpty ? [] : new[] { ("Panels at scale 1:1", drawings) }]);
        Foot(paper, content.Voice.Name);
        return paper.Save();
    }

    // Cautions come first; the list of contents is filled in when the pages are known.
    private static (PaperPage Page, double At) Front(PaperFlow flow, Voice voice)
    {
        flow.Say($"{voice.Name}: building guide", 20, bold: true).Space(3);
        if (voice.About.Length > 0)
            flow.Say(voice.About);
        flow.Say($"{voice.Members.Length} modules: {string.Join(", ", voice.Members.GroupBy(member => member.Module.Name).Select(group => $"{group.Count()} × {group.Key}"))}.");
        flow.Heading("Cautions: read these first");
        flow.List(Cautions.All);
        flow.Say("Computed figures are no better than the values in the design folder. Where a reading and this guide disagree, stop, switch off and find out why.", bold: true);
        flow.Heading("Contents");
        return (flow.Page, flow.At);
    }

    private static void Contents(PaperPage page, double y, ImmutableArray<(string Text, int Page)> chapters)
    {
        foreach ((string text, int number) in chapters)
        {
            page.Text(text, 18, y, 9.5);
            page.Text($"{number}", 110, y, 9.5, anchor: Anchor.Right);
            y += 4.6;
        }
    }

    private static void Foot(Paper paper, string voice)
    {
        for (int i = 0; i < paper.Pages.Count; i++)
        {
            PaperPage page = paper.Pages[i];
            page.Text(voice, 18, page.Height - 9, 8, grey: 0.3);
            page.Text($"{i + 1} of {paper.Pages.Count}", page.Width - 18, page.Height - 9, 8, anchor: Anchor.Right, grey: 0.3);
        }
    }

    private static void Parts(PaperFlow flow, PartsOrder order)
    {
        flow.Chapter("Parts of one voice");
        flow.Say($"Everything for one {order.Voice}, by the step in which it is fitted; spare pieces come on top. The same list stands in parts/parts.csv and parts/parts.xlsx with prices, shelf and substitutes.");
        foreach (IGrouping<BuildStep, OrderLine> step in order.Lines.GroupBy(line => line.Step))
        {
            flow.Heading(BuildSteps.Title(step.Key));
            flow.Table(
                [new("pieces", 16, true), new("spare", 14, true), new("what", 58), new("package", 34), new("where", 52)],
                step.Select(line => ImmutableArray.Create($"{line.Need}", line.Spares > 0 ? $"{line.Spares}" : "", Called(line), line.Package, Where(line)))
            );
        }
        flow.List(order.Notes);
    }

    private static void Assembly(PaperFlow flow, PartsOrder order)
    {
        flow.Chapter("Assembly, in this order");
        flow.Say("Low parts before high ones, so that the board lies flat while it is soldered; what heat or static may hurt late (common practice). Tick each bag when it is done.");
        foreach (IGrouping<string, KitBag> module in order.Bags.GroupBy(bag => bag.Module))
        {
            flow.Heading($"{module.Key}{(module.First().Copies > 1 ? $" (build {module.First().Copies} of these)" : "")}");
            foreach (KitBag bag in module)
            {
                flow.Keep(28).Say($"Bag {bag.Number}: {BuildSteps.Title(bag.Step)}. {BuildAdvice.Of(bag.Step)}", 9);
                flow.Table(
                    [new("pieces", 16, true), new("what", 62), new("package", 36), new("where", 46), new("done", 14)],
                    bag.Items.Select(item => ImmutableArray.Create($"{item.Count}", item.What, item.Package, Ranges.Write(item.Designators), "☐"))
                );
            }
        }
    }

    private static void Patch(PaperFlow flow, PackContent content)
    {
        Voice voice = content.Voice;
        flow.Chapter("Patch sheet");
        if (!voice.Cords.IsEmpty)
            flow.Table(
                [new("cord", 12, true), new("from", 60), new("to", 60), new("length", 20, true)],
                voice.Cords.Select((cord, i) => ImmutableArray.Create($"{i + 1}", $"{cord.From}", $"{cord.To}", $"{100 * cord.Length:0} cm"))
            );
        if (!voice.Ribbons.IsEmpty)
            flow.Say("Ribbons go behind the panels, with the power off, pin 1 to pin 1.").Table(
                [new("ribbon from", 60), new("along", 74), new("step", 20, true)],
                voice.Ribbons.Select(ribbon => ImmutableArray.Create($"{ribbon.From}", string.Join(", ", ribbon.To), $"{100 * ribbon.Length:0.#} cm"))
            );
        flow.Art(ConnectionChart.Draw(voice, "Connections"));
        flow.Art(RowPicture.Draw(voice, content.Places, "The row, from the front"));
    }

    private static string Called(OrderLine line) => line.Kind is "extra" ? line.What : $"{line.Kind} {line.What}".TrimEnd();

    private static string Where(OrderLine line) =>
        string.Join("; ", line.Places.Select(place => $"{place.Module}{(place.Copies > 1 ? $" ×{place.Copies}" : "")}: {(place.Designators.IsEmpty ? $"{place.Count}" : Ranges.Write(place.Designators))}"));
}
