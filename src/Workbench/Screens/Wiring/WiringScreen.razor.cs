using System.Globalization;
using Consort.Engine.Documents;
using Consort.Engine.Documents.Files;
using Consort.Engine.Documents.Plans;
using Consort.Engine.Planning;
using Consort.Workbench.Session;
using Microsoft.AspNetCore.Components;

namespace Consort.Workbench.Screens.Wiring;

/// <summary>What does each way of wiring the voice take?</summary>
public sealed partial class WiringScreen
{
    private (WiringPlan? Plan, long Revision, int Way) own = (null, 0, -1);

    [Inject]
    private WiringWork Wiring { get; set; } = null!;

    private LongWorkState<bool, WiringPlan>? Work { get; set; }

    /// <inheritdoc/>
    protected override void Look()
    {
        base.Look();
        Work = Wiring.Work.State;
    }

    private WiringPlan? Plan => Work?.Result;

    private bool IsOld => Work?.Revision != State.Revision;

    // The one that the address names, else the voice's own, else the first that none beats and that fits.
    private int Way =>
        int.TryParse(Selection.Word("way"), NumberStyles.None, CultureInfo.InvariantCulture, out int way) && way >= 1 && way <= Plan!.Alternatives.Length
            ? way - 1
            : Own >= 0 ? Own
            : Math.Max(0, Plan!.Alternatives.ToList().FindIndex(one => one.IsUnbeaten && one.Case.Warnings.IsEmpty && one.Unmet.IsEmpty));

    // Found once for a plan and a design.
    private int Own
    {
        get
        {
            if (State.Design is { } design && (!ReferenceEquals(own.Plan, Plan) || own.Revision != design.Revision))
                own = (Plan, design.Revision, OwnWay.In(Plan!, design.Voice));
            return own.Way;
        }
    }

    private Alternative Chosen => Plan!.Alternatives[Way];

    private bool Holds => Chosen.Places.Any(place => !place.Holds.IsEmpty);

    private void Find(bool isWhole)
    {
        Wiring.Work.Forget();
        Wiring.Work.Ask(isWhole);
    }

    private void Write() => Session.Rewrite("voice.yaml", VoiceText.Write(Chosen));

    private static string Size(double cents) => Figures.PageCents(cents).TrimStart('+');

    private static MarkupString Picture(LineArt art) => new(SvgArt.Write(art));
}
