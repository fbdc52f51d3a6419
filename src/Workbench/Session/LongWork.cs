using Consort.Engine.Pitch;

namespace Consort.Workbench.Session;

/// <summary>How a piece of long work stands.</summary>
/// <param name="Revision">The texts that it is of.</param>
/// <param name="Asked">What was asked.</param>
public sealed record LongWorkState<TAsked, TResult>(long Revision, TAsked Asked)
    where TResult : class
{
    /// <summary>The stage and its share of the whole; null at rest.</summary>
    public (string Stage, double Done)? Working { get; init; }

    /// <summary>What came of it.</summary>
    public TResult? Result { get; init; }

    /// <summary>Why nothing did.</summary>
    public Unproved? Failure { get; init; }

    /// <summary>True when a person ended it.</summary>
    public bool WasStopped { get; init; }
}

/// <summary>Work that a person asks for, that takes a while, shows how far it is and can be ended: one at a time.</summary>
/// <param name="session">Whose design it is of.</param>
/// <param name="run">The work.</param>
public sealed class LongWork<TAsked, TResult>(
    VoiceSession session,
    Func<ReadDesign, TAsked, IProgress<(string Stage, double Done)>, CancellationToken, (TResult? Result, Unproved? Failure)> run
) : IDisposable
    where TResult : class
{
    private readonly Lock gate = new();
    private CancellationTokenSource? running;

    /// <summary>How it stands; null before anything was asked.</summary>
    public LongWorkState<TAsked, TResult>? State { get; private set; }

    /// <summary>Begins it for the newest design, unless just that is done or under way.</summary>
    public void Ask(TAsked asked)
    {
        lock (gate)
        {
            if (session.State.Design is not { } design || (State is { } now && now.Revision == design.Revision && Equals(now.Asked, asked)))
                return;
            running?.Cancel();
            CancellationTokenSource mine = running = new();
            State = new(design.Revision, asked) { Working = ("beginning", 0) };
            _ = Task.Run(() => Work(design, asked, mine));
        }
    }

    /// <summary>Ends it.</summary>
    public void Stop()
    {
        lock (gate)
        {
            running?.Cancel();
            State = State is null ? null : State with { Working = null, WasStopped = State.Result is null };
        }
        session.Announce();
    }

    /// <summary>Forgets what was done, so that it can be asked again.</summary>
    public void Forget()
    {
        lock (gate)
        {
            running?.Cancel();
            State = null;
        }
    }

    private void Work(ReadDesign design, TAsked asked, CancellationTokenSource mine)
    {
        TResult? result = null;
        Unproved? failure = null;
        try
        {
            (result, failure) = run(design, asked, new Telling(this, mine), mine.Token);
        }
        catch (Exception e) // whatever it is: a screen that waits is told
        {
            if (mine.IsCancellationRequested)
                return; // something newer is wanted, or nothing
            failure = new($"a mistake of our own: {e.Message}", "please report it with the voice's folder");
        }
        Say(mine, state => state with { Working = null, Result = result, Failure = failure });
    }

    private void Say(CancellationTokenSource mine, Func<LongWorkState<TAsked, TResult>, LongWorkState<TAsked, TResult>> change)
    {
        lock (gate)
        {
            if (mine != running || mine.IsCancellationRequested || State is null)
                return;
            State = change(State);
        }
        session.Announce();
    }

    /// <inheritdoc/>
    public void Dispose()
    {
        lock (gate)
            running?.Cancel();
    }

    private sealed class Telling(LongWork<TAsked, TResult> work, CancellationTokenSource mine) : IProgress<(string Stage, double Done)>
    {
        public void Report((string Stage, double Done) value) => work.Say(mine, state => state with { Working = value });
    }
}
