namespace Consort.Engine.Circuit;

/// <summary>A solve that did not end well: a value, not an exception.</summary>
/// <param name="What">What was tried and how it ended, in one line.</param>
/// <param name="Unknown">The net or branch that was furthest from agreeing.</param>
/// <param name="Time">Time of the failure, s; 0 at rest.</param>
/// <param name="Residual">What was left over there: A for a net, V for a branch.</param>
public sealed record SolveFailure(string What, string Unknown, double Time, double Residual)
{
    /// <inheritdoc/>
    public override string ToString() => $"{What}; worst at '{Unknown}' at {Time:G6} s, left over {Residual:G3}";
}
