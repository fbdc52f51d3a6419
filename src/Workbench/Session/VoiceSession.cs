using System.Collections.Immutable;
using Consort.Engine.Design;
using Consort.Engine.Pitch;
using Consort.Workbench.Folder;

namespace Consort.Workbench.Session;

/// <summary>One open folder, shared by all tabs: its texts as they are being edited, what was read from them, and what is
/// known of it. Every change gives a new <see cref="State"/>; work on older ones is cancelled.</summary>
public sealed class VoiceSession : IDisposable
{
    private readonly Lock gate = new();
    private readonly FolderFiles files;
    private readonly ILiveEngine engine;
    private readonly EditHistory history = new();
    private readonly CancellationTokenSource closed = new();
    private readonly SemaphoreSlim wanted = new(0);
    private readonly Task worker;
    private CancellationTokenSource? running;
    private ImmutableList<Action> watchers = [];

    public VoiceSession(ClosedFolder folder, ILiveEngine engine)
    {
        files = new(folder);
        this.engine = engine;
        DesignTexts texts = files.Read();
        State = Read(new(0, texts, texts, [], null));
        worker = Task.Run(Work);
        wanted.Release();
    }

    /// <summary>All there is to show.</summary>
    public SessionState State { get; private set; }

    /// <summary>Where the folder lies.</summary>
    public string Folder => files.Root;

    /// <summary>Calls, from any thread, after every change of the state, until what it returns is disposed.</summary>
    public IDisposable Watch(Action changed)
    {
        ImmutableInterlocked.Update(ref watchers, list => list.Add(changed));
        return new Watching(this, changed);
    }

    /// <summary>Puts another value at a place of a text, or adds it.</summary>
    /// <returns>Why that cannot be; null when it was done. A value that makes no sense is done: its mistake is shown.</returns>
    public string? Set(TextPlace place, string value)
    {
        lock (gate)
        {
            if (State.Texts.Find(place.File) is not { } source)
                return $"there is no {place.File}";
            (string? text, string? refusal) = place.With(source, value);
            if (text is not null)
                Take(State.Texts.With(TextEdit.Renewed(source, text)));
            return refusal;
        }
    }

    /// <summary>Puts another text in a whole file's place.</summary>
    public void Rewrite(string file, string text)
    {
        lock (gate)
            if (State.Texts.Find(file) is { } source)
                Take(State.Texts.With(TextEdit.Renewed(source, text)));
    }

    /// <summary>Takes the last change back.</summary>
    public void Undo() => Move(history.Undo);

    /// <summary>Does again what was taken back.</summary>
    public void Redo() => Move(history.Redo);

    /// <summary>Puts all texts back to what lies on disk; it can be taken back.</summary>
    public void Revert()
    {
        lock (gate)
            Take(State.Saved);
    }

    private void Take(DesignTexts texts)
    {
        if (texts.Files.All(file => file.Value?.Text == State.Texts.Find(file.Key)?.Text))
            return;
        history.Note(State.Texts, texts);
        Renew(texts);
    }

    private void Move(Func<DesignTexts, DesignTexts> step)
    {
        lock (gate)
        {
            DesignTexts texts = step(State.Texts);
            if (!ReferenceEquals(texts, State.Texts))
                Renew(texts);
        }
    }

    private void Renew(DesignTexts texts)
    {
        State = Read(State with { Revision = State.Revision + 1, Texts = texts, News = null }) with { Undoable = history.Undoable, Redoable = history.Redoable };
        running?.Cancel();
        wanted.Release();
        Announce();
    }

    private static SessionState Read(SessionState state)
    {
        (Voice? voice, Stock? stock, ImmutableArray<InputError> errors) = VoiceFolder.Read(state.Texts);
        ReadDesign? design = voice is null ? state.Design : new(state.Revision, state.Texts, voice, stock ?? Stock.Empty);
        return state with { Errors = errors, Design = design };
    }

    private async Task Work()
    {
        while (!closed.IsCancellationRequested)
        {
            try
            {
                await wanted.WaitAsync(closed.Token);
                Answer();
            }
            catch (OperationCanceledException)
            {
                // a newer text is waiting, or the session is closed
            }
        }
    }

    // One run at a time: an older one has ended before the next begins, so that it takes no processor from it.
    private void Answer()
    {
        ReadDesign design;
        CancellationToken cancel;
        lock (gate)
        {
            if (State.Design is not { } newest || State.HasMistakes || newest.Revision != State.Revision || (State.AnswerRevision == newest.Revision && State.Answer is { IsWhole: true }))
                return;
            design = newest;
            running?.Dispose();
            running = CancellationTokenSource.CreateLinkedTokenSource(closed.Token);
            cancel = running.Token;
        }
        Unproved? failure = null;
        try
        {
            failure = engine.Answer(design.Voice, design.Stock, answer => Tell(design, answer), new Telling(this, design.Revision), cancel);
        }
        finally
        {
            Say(state => state with { Working = null, Failure = cancel.IsCancellationRequested ? state.Failure : failure });
        }
    }

    private void Tell(ReadDesign design, LiveAnswer answer) =>
        Say(state => state.Revision == design.Revision ? state with { Answer = answer, AnswerRevision = design.Revision, Failure = null } : state);

    private void Say(Func<SessionState, SessionState> change)
    {
        lock (gate)
            State = change(State);
        Announce();
    }

    private void Announce()
    {
        foreach (Action watcher in watchers)
            watcher();
    }

    /// <inheritdoc/>
    public void Dispose()
    {
        closed.Cancel();
        worker.Wait(TimeSpan.FromSeconds(1));
        running?.Dispose();
        wanted.Dispose();
        closed.Dispose();
    }

    private sealed class Watching(VoiceSession session, Action changed) : IDisposable
    {
        public void Dispose() => ImmutableInterlocked.Update(ref session.watchers, list => list.Remove(changed));
    }

    private sealed class Telling(VoiceSession session, long revision) : IProgress<(string Stage, double Done)>
    {
        public void Report((string Stage, double Done) value) => session.Say(state => state.Revision == revision ? state with { Working = value } : state);
    }
}
