using System.Collections.Immutable;
using System.Diagnostics;
using System.Globalization;
using Consort.Engine.Design;
using Consort.Engine.Pitch.Builds;
using Consort.Engine.Pitch.Builds.Spread;

namespace Consort.Engine.Pitch.Live;

/// <summary>
/// Answers for a voice that is being edited: at once by the laws of the voice as it was last read, where the edit is of values
/// limits and intervals; then from full transients; then by the whole proof, whose laws the next edits are answered by. Every estimate is
/// compared with what is read afterwards, and the next ones say how far off they were.
/// </summary>
/// <param name="threads">How many threads may work; the figures do not depend on it.</param>
public sealed class LiveVoice(int threads) : IDisposable
{
    private const int FirstBuilds = 512;
    private const int Shapes = 3; // whose laws are kept
    private const string Reading = "read from full transients of every oscillator at every temperature; causes, builds, chain and checks follow";

    private readonly Lock work = new(); // benches are for one at a time
    private readonly EstimateRecord record = new();
    private ImmutableArray<ReadBase> grounds = []; // each of another shape, the newest first: what is taken back is answered at once
    private volatile Lesson? lesson; // the newest

    /// <summary>Builds of the whole proof; 0 for none.</summary>
    public int Builds { get; init; } = 10_000;

    /// <summary>Builds that an estimate comes to when nothing newer is asked.</summary>
    public int EstimatedBuilds { get; init; } = 2048;

    /// <summary>Seed that builds are drawn from.</summary>
    public ulong Seed { get; init; } = 1;

    /// <summary>How long a voice must be left alone before it is read anew, ms.</summary>
    public int Pause { get; init; } = 150;

    /// <summary>Answers, better and better, until the proof or until it is cancelled. A later question may be asked, on another
    /// thread, while an earlier one that was cancelled is still ending.</summary>
    /// <param name="voice">Read without error.</param>
    /// <param name="stock">The shelf that its parts come from.</param>
    /// <param name="tell">Told each answer.</param>
    /// <param name="progress">Told the stage and how much of the proof is done, 0 to 1.</param>
    /// <param name="cancel">Ends it between two stages; where laws are being learnt that later edits need, when they are there.</param>
    /// <returns>Why there is no proof; null when there is one.</returns>
    /// <exception cref="OperationCanceledException">It was cancelled.</exception>
    public Unproved? Answer(
        Voice voice,
        Stock stock,
        Action<LiveAnswer> tell,
        IProgress<(string Stage, double Done)>? progress = null,
        CancellationToken cancel = default
    )
    {
        Stopwatch clock = Stopwatch.StartNew();
        PlayedVoice played = PlayedVoice.Of(voice, cancel);
        LiveAnswer? estimate = Estimate(played, stock, tell, clock, cancel);
        if (estimate is null && lesson is { } learning)
        {
            learning.Await(played, cancel);
            estimate = Estimate(played, stock, tell, clock, cancel);
        }
        cancel.WaitHandle.WaitOne(estimate is null ? 0 : Pause);
        cancel.ThrowIfCancellationRequested();
        if (estimate is not null || Builds == 0 || played.Oscillators.IsEmpty)
            return Prove(voice, stock, estimate, tell, clock, progress, null, cancel);
        using Lesson own = new(played, stock, cancel);
        lesson = own;
        return Prove(voice, stock, null, tell, clock, progress, own.Learnt, own.Token);
    }

    /// <summary>Ends what goes on for the sake of later edits.</summary>
    public void Dispose() => lesson?.End();

    // The last of the estimates; null where there can be none.
    private LiveAnswer? Estimate(PlayedVoice voice, Stock stock, Action<LiveAnswer> tell, Stopwatch clock, CancellationToken cancel)
    {
        lock (work)
        {
            cancel.ThrowIfCancellationRequested();
            if (Told(voice, stock) is not (ReadBase ground, VoiceBuilds builds, double doubt))
                return null;
            Estimator estimator = new(builds, ground.Benches);
            LiveAnswer answer = estimator.Design(record.Sureness(doubt), clock);
            tell(answer);
            SpreadStudy study = new(builds, new(stock, EstimatedBuilds, Seed)) { Benches = ground.Benches };
            foreach (int count in (int[])[Math.Min(FirstBuilds, EstimatedBuilds), EstimatedBuilds])
            {
                SpreadResult spread = study.To(count, threads, null, cancel);
                cancel.ThrowIfCancellationRequested();
                answer = answer with { Spread = spread, Milliseconds = clock.Elapsed.TotalMilliseconds };
                tell(answer);
            }
            return answer;
        }
    }

    private (ReadBase Ground, VoiceBuilds Builds, double Doubt)? Told(PlayedVoice voice, Stock stock)
    {
        foreach (ReadBase ground in grounds)
            if (ground.Edit(voice, stock) is (VoiceBuilds builds, double doubt))
                return (ground, builds, doubt);
        return null;
    }

    private Unproved? Prove(
        Voice voice,
        Stock stock,
        LiveAnswer? estimate,
        Action<LiveAnswer> tell,
        Stopwatch clock,
        IProgress<(string Stage, double Done)>? progress,
        Action? learnt,
        CancellationToken cancel
    )
    {
        Prover prover = new(threads)
        {
            Spread = Builds > 0 ? new(stock, Builds, Seed) : null,
            Curves = curves =>
            {
                record.Compare(estimate?.Tracking ?? [], curves);
                tell(new(AnswerKind.Read, Reading, LiveFigure.Of(voice, curves), curves, [], null, null, clock.Elapsed.TotalMilliseconds));
            },
            Early = proof => tell(Of(AnswerKind.Read, Reading, voice, proof, clock)),
            Readied = builds =>
            {
                Stand(voice, builds);
                learnt?.Invoke();
            },
        };
        (Proof? proof, Unproved? failure) = prover.Run(voice, progress, cancel);
        cancel.ThrowIfCancellationRequested();
        if (proof is not null)
            tell(Of(AnswerKind.Proved, Proved(proof), voice, proof, clock));
        return failure;
    }

    private void Stand(Voice voice, VoiceBuilds builds)
    {
        ReadBase next = new(voice, builds, threads);
        lock (work)
            grounds = [next, .. grounds.Where(ground => !ground.IsLike(next)).Take(Shapes - 1)];
    }

    private static LiveAnswer Of(AnswerKind kind, string sureness, Voice voice, Proof proof, Stopwatch clock) =>
        new(kind, sureness, LiveFigure.Of(voice, proof.Tracking), proof.Tracking, proof.Trims, proof.Spread, proof, clock.Elapsed.TotalMilliseconds);

    private static string Proved(Proof proof)
    {
        double worst = proof.Accuracy.Where(note => note.Unit == "cents").Select(note => note.Figure).DefaultIfEmpty(double.NaN).Max();
        string builds = proof.Spread is { } spread ? $"{spread.Builds.ToString("N0", CultureInfo.InvariantCulture)} trimmed builds; " : "";
        return string.Create(CultureInfo.InvariantCulture, $"proved: {builds}its short cuts lie within {worst:0.00} cents of the long way");
    }
}
