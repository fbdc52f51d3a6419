using Consort.Workbench.Screens;
using Consort.Workbench.Session;
using Microsoft.AspNetCore.Components;
using Microsoft.AspNetCore.Components.Web;

namespace Consort.Workbench.Frame;

/// <summary>What surrounds every screen: whose voice it is, how it stands, the tools of editing, the list of screens.</summary>
public sealed partial class Bench : IDisposable
{
    private ErrorBoundary? boundary;
    private IDisposable? watching;
    private string? name;

    [Inject]
    private VoiceSession Session { get; set; } = null!;

    [Inject]
    private Selection Selection { get; set; } = null!;

    private string Title => $"{ScreenList.All.FirstOrDefault(screen => screen.Path == Selection.Screen)?.Title ?? "Consort"} · {Session.State.Design?.Voice.Name}";

    protected override void OnInitialized() => watching = Session.Watch(Renew);

    protected override void OnParametersSet() => boundary?.Recover();

    // The pieces in it watch for themselves; around them only the voice's name can change.
    private void Renew()
    {
        if (Session.State.Design?.Voice.Name != name)
            _ = InvokeAsync(StateHasChanged);
    }

    protected override void OnAfterRender(bool firstRender) => name = Session.State.Design?.Voice.Name;

    public void Dispose() => watching?.Dispose();
}
