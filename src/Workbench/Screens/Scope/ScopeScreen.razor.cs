using System.Collections.Immutable;
using System.Text;
using Consort.Engine.Circuit;
using Consort.Engine.Design;
using Consort.Engine.Documents;
using Consort.Engine.Pitch;
using Consort.Engine.Quantities;
using Consort.Engine.Scope;
using Consort.Workbench.Charts;
using Consort.Workbench.Session;
using Microsoft.AspNetCore.Components;

namespace Consort.Workbench.Screens.Scope;

using Voice = Engine.Design.Voice; // and not the screen's folder

/// <summary>What does it look like? A sweep is taken when it is asked for: the whole circuit runs.</summary>
public sealed partial class ScopeScreen
{
    private readonly HashSet<string> shown = new(StringComparer.Ordinal);
    private ImmutableArray<string> faults = [];
    private ImmutableArray<(string Name, string Address)> downloads = [];
    private ScopeRecord? record;
    private ChartData chart = null!; // of the record
    private string more = "", play = "", time = "", volts = "", trigger = "", set = "";
    private long revision;
    private long? build;

    /// <inheritdoc/>
    protected override void OnInitialized()
    {
        base.OnInitialized();
        if (State.Design is { } design)
            shown.UnionWith(Channel.FirstOutputs(design.Voice));
    }

    private static IEnumerable<string> Jacks(Voice voice) =>
        voice.Members.Where(member => member.Module.Pitch is not null && member.Module.Sheet is null).SelectMany(member => Channel.Outputs(member.Module).Select(label => $"{member.Name}/{label}"));

    private void Turn(string jack)
    {
        if (!shown.Remove(jack))
            shown.Add(jack);
    }

    private async Task Take(ReadDesign design)
    {
        List<WordFault> wrong = [];
        ScopeWish wish = new(
            [.. Jacks(design.Voice).Where(shown.Contains), .. WordList.Of(more)],
            WordList.Of(set),
            play.Trim().Length > 0 ? play.Trim() : null,
            Value(time, Dimension.Time, wrong),
            Value(volts, Dimension.Voltage, wrong),
            trigger.Trim().Length > 0 ? trigger : null
        );
        (ScopePlan? plan, ImmutableArray<WordFault> misunderstood) = wish.Understand(design.Voice);
        faults = [.. wrong.Concat(misunderstood).Select(fault => $"{fault.What}. Mend: {fault.Mend}")];
        if (plan is not null && faults.IsEmpty)
            await Sweep(design, plan);
    }

    private static double? Value(string text, Dimension dimension, List<WordFault> wrong)
    {
        if (text.Trim().Length == 0)
            return null;
        if (!Quantity.TryRead(text.Trim(), dimension, bare: false, out double value, out QuantityFault? fault))
            wrong.Add(new(fault!.What, fault.Mend));
        else if (!(value > 0))
            wrong.Add(new($"'{text}' is not above zero", "leave it empty and it fits"));
        return value;
    }

    private async Task Sweep(ReadDesign design, ScopePlan plan)
    {
        long? number = Selection.Build;
        BuildPick? pick = number is { } wanted ? new(design.Stock, wanted) : null;
        double kelvin = Selection.Kelvin;
        bool isDone = await Run("trimming", async (progress, cancel) =>
        {
            (ScopeRecord? taken, SolveFailure? failure) = await Task.Run(() => plan.Take(trims: true, kelvin, Environment.ProcessorCount, pick, progress, cancel), cancel);
            if (taken is not null)
                Show(taken, design.Revision, number);
            else
                faults = [failure!.ToString()];
        });
        if (!isDone)
            faults = ["cancelled"];
    }

    private void Show(ScopeRecord taken, long of, long? number)
    {
        Shelf.Clear();
        (record, chart, revision, build) = (taken, ScopeChart.Of(taken), of, number);
        downloads =
        [
            ("scope.svg", Shelf.Put("scope.svg", Encoding.UTF8.GetBytes(ScopePicture.Svg(taken, dark: false)))),
            ("scope.png", Shelf.Put("scope.png", ScopePicture.Png(taken, dark: false))),
            ("scope.csv", Shelf.Put("scope.csv", Encoding.UTF8.GetBytes(ScopeWords.Csv(taken)))),
            ("scope.json", Shelf.Put("scope.json", Encoding.UTF8.GetBytes(ScopeJson.Write(taken)))),
        ];
    }
}
