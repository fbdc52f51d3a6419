using Consort.Engine.Design;
using Consort.Engine.Pitch;
using Consort.Engine.Pitch.Live;

namespace Consort.Workbench.Session;

/// <summary>Computing in the background: the newest texts only.</summary>
public sealed partial class VoiceSession
{
    private readonly SemaphoreSlim wanted = new(0);
    private CancellationTokenSource? running;

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
            if (State.Design is not { } newest || State.HasMistakes || newest.Revision != State.Revision || (State.AnswerRevision == newest.Revision && State.Answer is { Kind: AnswerKind.Proved }))
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
        Say(state => state.Revision != design.Revision ? state : Proven(state, design, answer) with { Answer = answer, AnswerRevision = design.Revision, Failure = null });

    // A proof without builds takes the place of another such, and of none, but not of a whole one.
    private static SessionState Proven(SessionState state, ReadDesign design, LiveAnswer answer) =>
        answer.Kind == AnswerKind.Proved || (answer.Proof is not null && state.Proof?.Spread is null)
            ? state with { Proof = answer.Proof, ProofRevision = design.Revision }
            : state;

    private sealed class Telling(VoiceSession session, long revision) : IProgress<(string Stage, double Done)>
    {
        public void Report((string Stage, double Done) value) => session.Say(state => state.Revision == revision ? state with { Working = value } : state);
    }
}
