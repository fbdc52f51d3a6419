using System.Collections.Immutable;

namespace Consort.Engine.Bench.Tones;

/// <summary>One periodic part of a recording: a frequency, and which of its multiples are in it.</summary>
/// <param name="Omega">rad per sample.</param>
/// <param name="Harmonics">1 is the frequency itself; rising.</param>
internal sealed record Series(double Omega, ImmutableArray<int> Harmonics)
{
    /// <summary>Multiples above this are left out: there the recorder's filter cuts, and sums come near to 2π, rad per
    /// sample.</summary>
    public const double Highest = 0.97 * Math.PI;

    /// <summary>The first so many multiples, as far as they can be recorded.</summary>
    public static Series First(double omega, int most) =>
        new(omega, [.. Enumerable.Range(1, Math.Clamp((int)(Highest / omega), 1, most))]);
}

/// <summary>How much of one multiple is in a recording: a·cos + b·sin about the middle.</summary>
internal readonly record struct Amplitude(double Cos, double Sin)
{
    /// <summary>a² + b².</summary>
    public double Square => Cos * Cos + Sin * Sin;
}
