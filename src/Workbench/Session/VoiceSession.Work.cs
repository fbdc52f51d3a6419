using Consort.Engine.Design;
using Consort.Engine.Pitch;
using Consort.Engine.Pitch.Live;

namespace Consort.Workbench.Session;

/// <summary>Computing in the background: the newest texts only.</summary>
public sealed partial class VoiceSession
{
    // A run that was cancelled ends at its next stage; until then one newer may work beside it, and a third waits.
    private readonly SemaphoreSlim places = new(2);
    private CancellationTokenSource? running;

    // Called with the gate held, after every change of the texts.
    private void AskAnew()
    {
        running?.Cancel();
        running = null;
        if (State.HasMistakes || State.Design is not { } design || design.Revision != State.Revision)
            return;
        CancellationTokenSource mine = running = CancellationTokenSource.CreateLinkedTokenSource(closed.Token);
        CancellationToken cancel = mine.Token;
        _ = Task.Run(() => Answer(design, cancel));
    }

    private async Task Answer(ReadDesign design, CancellationToken cancel)
    {
        Unproved? failure = null;
        try
        {
            await places.WaitAsync(cancel);
            try
            {
                failure = engine.Answer(design.Voice, design.Stock, answer => Tell(design, answer), new Telling(this, design.Revision), cancel);
            }
            finally
            {
                places.Release();
            }
        }
        catch (Exception e) // whatever it is: a screen that waits is told
        {
            if (cancel.IsCancellationRequested)
                return; // a newer text is being answered, or the session is closed; how the engine ends then is all one
            failure = new($"a mistake of our own: {e.Message}", "undo the last change, and please report it with the voice's folder");
        }
        Say(state => state.Revision == design.Revision ? state with { Working = null, Failure = failure } : state, isProgress: failure is null);
    }

    private void Tell(ReadDesign design, LiveAnswer answer) =>
        Say(state => state.Revision != design.Revision ? state : Proven(state, design, answer) with { Answer = answer, AnswerRevision = design.Revision, Failure = null });

    // A proof without builds takes the place of another such, and of none, but not of a whole one.
    private static SessionState Proven(SessionState state, ReadDesign design, LiveAnswer answer) =>
        answer.Kind == AnswerKind.Proved || (answer.Proof is not null && state.Proof?.Spread is null)
            ? state with { Proof = answer.Proof, ProofRevision = design.Revision }
            : state;

    private sealed class Telling(VoiceSession session, long revision) : IProgress<(string Stage, double Done)>
    {
        public void Report((string Stage, double Done) value) => session.Say(state => state.Revision == revision ? state with { Working = value } : state, isProgress: true);
    }
}
