using System.Collections.Immutable;
using Consort.Engine.Design;
using Consort.Engine.Scope;

namespace Consort.Engine.Expected;

/// <summary>What a builder reads at a module's first power-up: nothing plugged in, trimmers and controls as its file has
/// them, a follower on the link of its lead.</summary>
/// <param name="Module">Which.</param>
/// <param name="Lead">The lead that it hangs on; null when it stands alone.</param>
/// <param name="Rails">Current in its supply lead.</param>
/// <param name="Points">Voltages, those that stand still first.</param>
/// <param name="Outputs">Its output jacks over some periods; null when it has none that are read.</param>
/// <param name="Inner">The other places that move; null when there are none.</param>
/// <param name="Builds">Simulated builds behind the bands of what stands.</param>
/// <param name="MovingBuilds">The same of what moves.</param>
public sealed record ExpectedUnit(
    Module Module,
    string? Lead,
    ImmutableArray<ExpectedRail> Rails,
    ImmutableArray<TestPoint> Points,
    ScopeRecord? Outputs,
    ScopeRecord? Inner,
    int Builds,
    int MovingBuilds
);

/// <summary>Current that a module takes from a rail.</summary>
/// <param name="Rail">Its name.</param>
/// <param name="Amps">In the design: the mean while it oscillates, or at rest when it does not.</param>
/// <param name="Least">The same, moved by as much as builds at rest lie from the mean of those whose comparators rest alike, and by the spread of what amplifiers take for themselves.</param>
/// <param name="Most">The same.</param>
public sealed record ExpectedRail(string Rail, double Amps, double Least, double Most);

/// <summary>A voltage that can be touched with a probe, against the module's own 0 V.</summary>
/// <param name="Net">The net.</param>
/// <param name="Touch">Where: a part's terminal or a jack.</param>
/// <param name="Volts">In the design: standing, or the mean of a moving net.</param>
/// <param name="Low">Standing: least of all builds. Moving: lowest of a period in the design.</param>
/// <param name="High">The same, most and highest.</param>
/// <param name="Hertz">NaN when it stands still or does not repeat.</param>
/// <param name="Moves">True when it moves with the oscillation.</param>
public sealed record TestPoint(string Net, string Touch, double Volts, double Low, double High, double Hertz, bool Moves)
{
    /// <summary>How far short spikes at the oscillation's edges reach on a net that stands still; null when there are none to see.</summary>
    public (double Lowest, double Highest)? Spikes { get; init; }

    /// <summary>How builds move there; null where it stands still.</summary>
    public MovingBands? Bands { get; init; }
}
