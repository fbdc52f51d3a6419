using Microsoft.AspNetCore.Components;

namespace Consort.Workbench.Screens;

/// <summary>The bare address: the first screen of the list.</summary>
public sealed partial class Start
{
    [Inject]
    private NavigationManager Navigation { get; set; } = null!;

    protected override void OnInitialized() => Navigation.NavigateTo($"/{ScreenList.All[0].Path}", replace: true);
}
