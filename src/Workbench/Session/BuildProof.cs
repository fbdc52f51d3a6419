using Consort.Engine.Pitch;

namespace Consort.Workbench.Session;

/// <summary>The proof of one build by its number, for one tab.</summary>
/// <param name="session">Whose design it is of.</param>
public sealed class BuildProof(VoiceSession session) : IDisposable
{
    /// <summary>As <c>prove --build</c> makes it.</summary>
    public LongWork<long, Proof> Work { get; } =
        new(session, (design, number, progress, cancel) => new Prover(Environment.ProcessorCount) { Spread = new(design.Stock), Build = number }.Run(design.Voice, progress, cancel));

    /// <inheritdoc/>
    public void Dispose() => Work.Dispose();
}
