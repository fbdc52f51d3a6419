using Consort.Workbench.Session;
using Microsoft.AspNetCore.Components;
using Microsoft.AspNetCore.Components.Routing;

namespace Consort.Workbench.Frame;

/// <summary>A screen, or a piece of one: it is drawn anew whenever the session changes.</summary>
public abstract class Screen : ComponentBase, IDisposable
{
    private IDisposable? watching;

    /// <summary>The open folder.</summary>
    [Inject]
    protected VoiceSession Session { get; set; } = null!;

    /// <summary>What this tab looks at.</summary>
    [Inject]
    protected Selection Selection { get; set; } = null!;

    /// <summary>All there is to show.</summary>
    protected SessionState State => Session.State;

    /// <inheritdoc/>
    protected override void OnInitialized()
    {
        watching = Session.Watch(Renew);
        Navigation.LocationChanged += Moved; // another selection, the same screen
    }

    [Inject]
    private NavigationManager Navigation { get; set; } = null!;

    private void Moved(object? sender, LocationChangedEventArgs e) => Renew();

    /// <summary>Called on any thread when the session changed.</summary>
    protected virtual void Renew() => _ = InvokeAsync(StateHasChanged);

    /// <inheritdoc/>
    public void Dispose()
    {
        Dispose(disposing: true);
        GC.SuppressFinalize(this);
    }

    /// <summary>Lets go of what the screen holds.</summary>
    protected virtual void Dispose(bool disposing)
    {
        if (!disposing)
            return;
        watching?.Dispose();
        Navigation.LocationChanged -= Moved;
    }
}
