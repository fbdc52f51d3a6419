using Consort.Workbench.Session;
using Microsoft.AspNetCore.Components;

namespace Consort.Workbench.Fields;

/// <summary>Says that a build is looked at, and has it read.</summary>
public sealed partial class ChosenBuild
{
    [Inject]
    private BuildProof Build { get; set; } = null!;

    protected override void OnParametersSet() => Ask();

    protected override void Renew()
    {
        Ask();
        base.Renew();
    }

    private void Ask()
    {
        if (Selection.Build is { } number && !Session.State.HasMistakes)
            Build.Work.Ask(number);
    }
}
