using Consort.Engine.Design;
using Consort.Engine.Pitch;
using Consort.Engine.Pitch.Builds.Spread;

namespace Consort.Workbench.Session;

/// <summary>The proof of the command line in two goes: the design, then ten thousand builds of it.</summary>
/// <param name="threads">How many threads may work.</param>
public sealed class ProofInTwo(int threads) : ILiveEngine
{
    private const int Builds = 10_000; // as many as 'prove' makes

    /// <inheritdoc/>
    public Unproved? Answer(Voice voice, Stock stock, Action<LiveAnswer> tell, IProgress<(string Stage, double Done)> progress, CancellationToken cancel)
    {
        (Proof? design, Unproved? failure) = new Prover(threads).Run(voice, progress, cancel);
        if (design is null)
            return failure;
        tell(new("the design itself, by whole circuits; builds are being made", design, IsWhole: false));
        cancel.ThrowIfCancellationRequested();
        (Proof? whole, failure) = new Prover(threads) { Spread = new(stock, Builds, 1) }.Run(voice, progress, cancel);
        if (whole is null)
            return failure;
        tell(new($"by whole circuits and {Builds:N0} trimmed builds (seed 1), as 'consort prove' makes them", whole, IsWhole: true));
        return null;
    }
}
