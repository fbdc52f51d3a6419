using System.Collections.Immutable;
using Consort.Engine.Design;
using Consort.Engine.Pitch;
using Consort.Engine.Pitch.Builds;

namespace Consort.Workbench.Session;

/// <summary>What is known of a voice so far.</summary>
/// <param name="Sureness">How sure it is, in words.</param>
/// <param name="Proof">The figures; a first answer has no builds yet.</param>
/// <param name="IsWhole">True when nothing more will come.</param>
public sealed record LiveAnswer(string Sureness, Proof Proof, bool IsWhole)
{
    /// <summary>The share of builds that keeps every limit; null before builds are made.</summary>
    public YieldInterval? Yield => Proof.Spread?.Yield;
}

/// <summary>Answers for a voice as it is being changed: first figures soon, better ones after.</summary>
public interface ILiveEngine
{
    /// <summary>Tells of a voice until all is told or it is cancelled.</summary>
    /// <param name="tell">Told each answer, the surest last.</param>
    /// <param name="progress">Told the stage and its share of the whole, 0 to 1.</param>
    /// <returns>Why there is no answer; null when all was told.</returns>
    Unproved? Answer(Voice voice, Stock stock, Action<LiveAnswer> tell, IProgress<(string Stage, double Done)> progress, CancellationToken cancel);
}
