namespace Consort.Workbench.Frame;

/// <summary>A screen that works for a while when it is asked to, shows how far it is, and can be ended; leaving it ends it.</summary>
public abstract class WorkingScreen : Screen
{
    private CancellationTokenSource? running;

    /// <summary>The stage and its share of the whole; null at rest.</summary>
    protected (string Stage, double Done)? Working { get; private set; }

    /// <summary>Works on; false when it was cancelled.</summary>
    /// <param name="stage">What comes first.</param>
    /// <param name="work">The work; it begins on the screen's own thread.</param>
    protected async Task<bool> Run(string stage, Func<IProgress<(string Stage, double Done)>, CancellationToken, Task> work)
    {
        using CancellationTokenSource now = new();
        (running, Working) = (now, (stage, 0));
        try
        {
            await work(new Telling(this), now.Token);
            return true;
        }
        catch (OperationCanceledException)
        {
            return false;
        }
        finally
        {
            (running, Working) = (null, null);
        }
    }

    /// <summary>Ends it.</summary>
    protected void Cancel() => running?.Cancel();

    /// <inheritdoc/>
    protected override void Dispose(bool disposing)
    {
        base.Dispose(disposing);
        Cancel();
    }

    private sealed class Telling(WorkingScreen screen) : IProgress<(string Stage, double Done)>
    {
        public void Report((string Stage, double Done) value) =>
            _ = screen.InvokeAsync(() =>
            {
                if (screen.Working is not null)
                    screen.Working = value;
                screen.StateHasChanged();
            });
    }
}
