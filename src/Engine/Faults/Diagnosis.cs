using System.Collections.Immutable;

namespace Consort.Engine.Faults;

/// <summary>A figure as it was read.</summary>
/// <param name="Figure">Its place in the book's list.</param>
/// <param name="Value">As the book has them: V, A; pitch in octaves above 1 Hz.</param>
public readonly record struct FigureReading(int Figure, double Value);

/// <summary>One explanation.</summary>
/// <param name="Fault">The fault.</param>
/// <param name="Weight">Its likelihood among all and none, 0 to 1.</param>
/// <param name="Alike">Other faults that these readings cannot tell from it.</param>
/// <param name="Foretold">What other figures would then be: those furthest from a sound unit's.</param>
public sealed record Explanation(Fault Fault, double Weight, ImmutableArray<string> Alike, ImmutableArray<FigureReading> Foretold);

/// <summary>A figure that would tell the leading explanations apart.</summary>
/// <param name="Figure">Its place in the book's list.</param>
/// <param name="Bits">What it would tell, at most, by the spread of what they foretell over a reading's uncertainty.</param>
public readonly record struct NextFigure(int Figure, double Bits);

/// <summary>What readings say of a unit.</summary>
/// <param name="IsSound">True when no fault is claimed.</param>
/// <param name="Furthest">How far the furthest reading lies from sound units', given the readings before it, in standard deviations.</param>
/// <param name="Ranked">Explanations, the likeliest first.</param>
/// <param name="Next">What to read next, the most telling first.</param>
public sealed record Diagnosis(bool IsSound, double Furthest, ImmutableArray<Explanation> Ranked, ImmutableArray<NextFigure> Next);
