using Consort.Engine.Circuit.Motion;

namespace Consort.Engine.Circuit.Signal;

/// <summary>Parts the weights of a swept step in two. In the smooth, a stage's weight is its share of the step; what the last
/// has beyond that is the weight of the moment at which the step ended on an event, decided by the state there and
/// then.</summary>
internal sealed class MomentWeight(Tableau tableau)
{
    private readonly double lastToOthers = tableau.A[^1][^1] / (1 - tableau.A[^1][^1]);

    /// <summary>The moment's part; 0 where a step ended on no event.</summary>
    /// <param name="step">The step.</param>
    /// <param name="all">Sum of the weights of its stages.</param>
    /// <param name="last">Weight of the last one.</param>
    public double Of(TapedStep step, double all, double last) => step.Watch >= 0 ? last - lastToOthers * (all - last) : 0;
}
