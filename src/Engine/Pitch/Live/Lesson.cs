using Consort.Engine.Design;
using Consort.Engine.Pitch.Builds.Draws;

namespace Consort.Engine.Pitch.Live;

/// <summary>
/// The reading of a voice whose laws are not known yet. It outlives the question it was begun for until the laws are there, since
/// later edits of the same voice are answered by them: otherwise nobody who goes on typing would ever be answered. It ends when
/// an edit is asked that its laws would not tell.
/// </summary>
internal sealed class Lesson : IDisposable
{
    private readonly VoiceShape shape;
    private readonly CancellationToken asked;
    private readonly CancellationTokenRegistration registration;
    private readonly CancellationTokenSource end = new();
    private readonly TaskCompletionSource over = new(TaskCreationOptions.RunContinuationsAsynchronously);
    private volatile bool isLearnt;

    /// <summary>Begins.</summary>
    /// <param name="voice">The voice that is read.</param>
    /// <param name="stock">The shelf that its parts come from.</param>
    /// <param name="asked">Cancelled when its question is no longer the newest.</param>
    public Lesson(PlayedVoice voice, Stock stock, CancellationToken asked)
    {
        (shape, this.asked) = (new(voice, DrawPlanner.Plan(voice.Circuit, stock)), asked);
        Token = end.Token;
        registration = asked.Register(EndIfLearnt);
    }

    /// <summary>Ends the reading.</summary>
    public CancellationToken Token { get; }

    /// <summary>Waits for the laws if they will tell of a voice, and ends the lesson if they will not.</summary>
    /// <param name="edited">The voice that is asked now.</param>
    /// <param name="cancel">Ends the waiting.</param>
    /// <exception cref="OperationCanceledException">The waiting was ended.</exception>
    public void Await(PlayedVoice edited, CancellationToken cancel)
    {
        if (shape.IsOf(edited))
            over.Task.Wait(cancel);
        else
            End();
    }

    /// <summary>The laws are there: from now on it ends with its question.</summary>
    public void Learnt()
    {
        isLearnt = true;
        over.TrySetResult();
        if (asked.IsCancellationRequested)
            End();
    }

    /// <summary>Ends it whatever is known.</summary>
    public void End() => end.Cancel();

    // Whichever of the two comes second sees the other: the laws, and the end of the question.
    private void EndIfLearnt()
    {
        if (isLearnt)
            End();
    }

    /// <summary>It is over, with laws or without: nobody waits any longer.</summary>
    public void Dispose()
    {
        registration.Dispose();
        over.TrySetResult();
    }
}
