using Consort.Engine.Design;
using Consort.Engine.Pitch;
using Consort.Engine.Pitch.Live;

namespace Consort.Workbench.Session;

/// <summary>Answers for a voice as it is being changed: first figures soon, better ones after.</summary>
public interface ILiveEngine
{
    /// <summary>Tells of a voice until all is told or it is cancelled.</summary>
    /// <param name="tell">Told each answer, the surest last.</param>
    /// <param name="progress">Told the stage and its share of the whole, 0 to 1.</param>
    /// <returns>Why there is no answer; null when all was told.</returns>
    Unproved? Answer(Voice voice, Stock stock, Action<LiveAnswer> tell, IProgress<(string Stage, double Done)> progress, CancellationToken cancel);
}

/// <summary>The engine that the program computes with.</summary>
/// <param name="threads">How many threads may work.</param>
public sealed class LiveEngine(int threads) : ILiveEngine, IDisposable
{
    private readonly LiveVoice voices = new(threads);

    /// <inheritdoc/>
    public Unproved? Answer(Voice voice, Stock stock, Action<LiveAnswer> tell, IProgress<(string Stage, double Done)> progress, CancellationToken cancel) =>
        voices.Answer(voice, stock, tell, progress, cancel);

    /// <inheritdoc/>
    public void Dispose() => voices.Dispose();
}
