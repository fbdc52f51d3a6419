using System.Collections.Immutable;
using Consort.Engine.Design;
using Consort.Engine.Pitch;
using Consort.Workbench.Folder;

namespace Consort.Workbench.Session;

/// <summary>One open folder, shared by all tabs: its texts as they are being edited, what was read from them, and what is
/// known of it. Every change gives a new <see cref="State"/>; work on older ones is cancelled.</summary>
public sealed partial class VoiceSession : IDisposable
{
    private readonly Lock gate = new();
    private readonly FolderFiles files;
    private readonly ILiveEngine engine;
    private readonly EditHistory history = new();
    private readonly CancellationTokenSource closed = new();
    private readonly Recovery recovery;
    private readonly ITimer look;
    private ImmutableList<Watcher> watchers = [];

    /// <summary>Opens a folder.</summary>
    /// <param name="folder">The voice's folder.</param>
    /// <param name="engine">What computes.</param>
    /// <param name="data">Where changes are kept until they are saved.</param>
    /// <param name="clock">Says when to look at the disk again.</param>
    public VoiceSession(ClosedFolder folder, ILiveEngine engine, ClosedFolder data, TimeProvider clock)
    {
        files = new(folder);
        this.engine = engine;
        recovery = new(data, folder.Root);
        stamp = files.Stamp();
        DesignTexts texts = files.Read();
        State = Read(new(0, texts, texts, [], null));
        BringBack();
        lock (gate)
            if (running is null)
                AskAnew();
        look = clock.CreateTimer(_ => LookAtDisk(), null, Second, Second);
    }

    /// <summary>All there is to show.</summary>
    public SessionState State { get; private set; }

    /// <summary>Where the folder lies.</summary>
    public string Folder => files.Root;

    /// <summary>Calls, from any thread, after every change of the state, until what it returns is disposed.</summary>
    /// <param name="changed">What is called.</param>
    /// <param name="withProgress">True: also when only what is being computed went on (<see cref="SessionState.Working"/>).</param>
    public IDisposable Watch(Action changed, bool withProgress = false)
    {
        Watcher watcher = new(this, changed, withProgress);
        ImmutableInterlocked.Update(ref watchers, list => list.Add(watcher));
        return watcher;
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

    /// <summary>Puts another text in that of <c>voice.yaml</c>; null leaves it.</summary>
    public void RewriteVoice(string? text)
    {
        if (text is not null)
            Rewrite(DesignTexts.VoiceFile, text);
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

    private void Take(DesignTexts texts, string? news = null)
    {
        if (texts.Files.All(file => file.Value?.Text == State.Texts.Find(file.Key)?.Text))
            return;
        history.Note(State.Texts, texts);
        Renew(texts, news);
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

    private void Renew(DesignTexts texts, string? news = null)
    {
        State = Read(State with { Revision = State.Revision + 1, Texts = texts, News = news, Working = null }) with { Undoable = history.Undoable, Redoable = history.Redoable };
        AskAnew(); // it computes while the disk is written
        if (recovery.Keep(State.Saved, texts) is { } unkept)
            State = State with { News = unkept };
        Announce();
    }

    private static SessionState Read(SessionState state)
    {
        (Voice? voice, Stock? stock, ImmutableArray<InputError> errors) = VoiceFolder.Read(state.Texts);
        ReadDesign? design = voice is null ? state.Design : new(state.Revision, state.Texts, voice, stock ?? Stock.Empty);
        return state with { Errors = errors, Design = design };
    }

    private void Say(Func<SessionState, SessionState> change, bool isProgress = false)
    {
        lock (gate)
            State = change(State);
        Announce(isProgress);
    }

    /// <summary>Tells all who watch.</summary>
    internal void Announce() => Announce(isProgress: false);

    private void Announce(bool isProgress)
    {
        foreach (Watcher watcher in watchers)
            if (watcher.WithProgress || !isProgress)
                watcher.Changed();
    }

    /// <inheritdoc/>
    public void Dispose()
    {
        closed.Cancel();
        look.Dispose();
        closed.Dispose();
    }

    private sealed class Watcher(VoiceSession session, Action changed, bool withProgress) : IDisposable
    {
        public Action Changed => changed;

        public bool WithProgress => withProgress;

        public void Dispose() => ImmutableInterlocked.Update(ref session.watchers, list => list.Remove(this));
    }
}
