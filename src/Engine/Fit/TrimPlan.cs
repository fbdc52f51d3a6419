using System.Collections.Immutable;
using Consort.Engine.Design;

namespace Consort.Engine.Fit;

/// <summary>One turn of one trimmer.</summary>
/// <param name="Trimmer">Designator.</param>
/// <param name="Purpose">What it is for.</param>
/// <param name="Turns">Full turns, clockwise positive, to what a hand can set.</param>
/// <param name="TurnsDeviation">Standard uncertainty of that.</param>
/// <param name="Volts">The control voltage at which to watch, V.</param>
/// <param name="FromHertz">What should sound there before.</param>
/// <param name="AimHertz">Turn until this sounds; what the other turns will do yet is allowed for.</param>
/// <param name="From">Where it likely stands, 0 to 1.</param>
/// <param name="To">Where it comes to stand.</param>
/// <param name="StepCents">What the finest move of a hand does there, cents.</param>
public sealed record TrimTurn(
    string Trimmer,
    TrimPurpose Purpose,
    double Turns,
    double TurnsDeviation,
    double Volts,
    double FromHertz,
    double AimHertz,
    double From,
    double To,
    double StepCents
);

/// <summary>What to turn now, and what that will leave.</summary>
/// <param name="Turns">In the order that leaves least; empty when nothing needs turning or nothing helps.</param>
/// <param name="Before">Pitch errors as they stand.</param>
/// <param name="After">Pitch errors after the turns, the hand's own error included.</param>
/// <param name="ChanceBefore">Likelihood that the limit is kept as it stands, 0 to 1.</param>
/// <param name="ChanceAfter">The same after the turns.</param>
/// <param name="Cautions">What else there is to say of them.</param>
public sealed record TrimPlan(
    ImmutableArray<TrimTurn> Turns,
    ImmutableArray<Foretold> Before,
    ImmutableArray<Foretold> After,
    double ChanceBefore,
    double ChanceAfter,
    ImmutableArray<string> Cautions
);
