using Consort.Workbench.Files;
using Consort.Workbench.Session;
using Microsoft.AspNetCore.Components;
using Microsoft.AspNetCore.Components.Routing;

namespace Consort.Workbench.Frame;

/// <summary>A screen, or a piece of one: it is drawn anew whenever the session changes.</summary>
public abstract class Screen : ComponentBase, IDisposable
{
    private IDisposable? watching;
    private ShelfPlace? shelf;
    private int waiting; // 1 while a drawing is asked for and not begun

    /// <summary>The open folder.</summary>
    [Inject]
    protected VoiceSession Session { get; set; } = null!;

    /// <summary>What this tab looks at.</summary>
    [Inject]
    protected Selection Selection { get; set; } = null!;

    [Inject]
    private FileShelf Files { get; set; } = null!;

    /// <summary>Files that it hands out until it makes others or is left.</summary>
    protected ShelfPlace Shelf => shelf ??= Files.Place();

    /// <summary>All there is to show, at the moment of one drawing: it does not change under it.</summary>
    protected SessionState State { get; private set; } = null!;

    /// <summary>Takes the moment that is drawn next.</summary>
    protected virtual void Look() => State = Session.State;

    /// <inheritdoc/>
    protected override void OnInitialized()
    {
        watching = Session.Watch(Renew, ShowsProgress);
        Look();
        Navigation.LocationChanged += Moved; // another selection, the same screen
    }

    [Inject]
    private NavigationManager Navigation { get; set; } = null!;

    private void Moved(object? sender, LocationChangedEventArgs e)
    {
        Renew();
        StateHasChanged();
    }

    /// <summary>True for what shows how far the work is; all else is left as it stands while only that changes.</summary>
    protected virtual bool ShowsProgress => false;

    /// <inheritdoc/>
    protected override bool ShouldRender()
    {
        Look();
        return true;
    }

    /// <summary>Called on any thread when the session changed.</summary>
    protected virtual void Renew() => Draw();

    /// <summary>True when a state is drawn otherwise than the one that was drawn last. Not asked where they are the same: what
    /// changed then is beside it.</summary>
    protected virtual bool Differs(SessionState drawn, SessionState now) => true;

    /// <summary>True when there is other news of the texts: what they are, what was read from them, what is wrong in them.</summary>
    protected static bool TextsDiffer(SessionState drawn, SessionState now) =>
        drawn.Texts != now.Texts || drawn.Saved != now.Saved || drawn.Errors != now.Errors || drawn.Design != now.Design;

    // Many changes in a row are drawn once.
    private void Draw()
    {
        if (Interlocked.Exchange(ref waiting, 1) == 0)
            _ = InvokeAsync(() =>
            {
                Volatile.Write(ref waiting, 0);
                SessionState now = Session.State;
                if (ReferenceEquals(State, now) || Differs(State, now))
                    StateHasChanged();
            });
    }

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
        shelf?.Dispose();
        Navigation.LocationChanged -= Moved;
    }
}
