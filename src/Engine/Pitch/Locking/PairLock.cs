using System.Collections.Immutable;

namespace Consort.Engine.Pitch.Locking;

/// <summary>How much of a lock range comes by one path.</summary>
/// <param name="Path">Which.</param>
/// <param name="Cents">What it adds to the range's width; the paths' sum is the width.</param>
public readonly record struct PathShare(CouplingPath Path, double Cents);

/// <summary>Two oscillators near unison, or another ratio, at one note, and what the voice's wiring does between them.</summary>
/// <param name="First">The one's name.</param>
/// <param name="Second">The other's.</param>
/// <param name="Volts">Keyboard voltage, V.</param>
/// <param name="Hertz">The first one's frequency, Hz.</param>
/// <param name="Stands">By how much the second is meant to stand above its ratio to the first, cents.</param>
/// <param name="Curve">By the second's phase ahead of the first's, in even steps: how much faster the second drifts off
/// than their detune says, cents. Its mean is zero: what is always there is part of the detune.</param>
/// <param name="Pull">That mean, cents: the second one's pitch against the first with both running, beside both alone.</param>
/// <param name="Paths">By path, largest first.</param>
public sealed record PairLock(
    string First,
    string Second,
    double Volts,
    double Hertz,
    double Stands,
    ImmutableArray<double> Curve,
    double Pull,
    ImmutableArray<PathShare> Paths
)
{
    /// <summary>The ratio that they stand near; detunes are counted from it.</summary>
    public Ratio Ratio { get; init; } = Ratio.Unison;

    /// <summary>The lowest detune of the second at which they lock, cents above the ratio; detune as heard far from lock.</summary>
    public double Low { get; } = -Curve.Max();

    /// <summary>The highest.</summary>
    public double High { get; } = -Curve.Min();

    /// <summary>From the lowest to the highest, cents.</summary>
    public double Width => High - Low;

    /// <summary>From here up the slowest part of a beat is at least half as fast as its fastest, cents.</summary>
    public double BeatsFreelyAbove => 2 * High - Low;

    /// <summary>And from here down.</summary>
    public double BeatsFreelyBelow => 2 * Low - High;

    /// <summary>True when a detune is inside the range.</summary>
    public bool LocksAt(double detune) => Width > 0 && detune >= Low && detune <= High;

    /// <summary>True when a detune beats evenly enough.</summary>
    public bool BeatsFreelyAt(double detune) => detune > BeatsFreelyAbove || detune < BeatsFreelyBelow || (Width == 0 && detune != 0);

    /// <summary>Beats a second at a detune, 0 where they lock; negative when the second is the slower one.</summary>
    public double BeatAt(double detune) => Slip.Beat([.. Curve.Select(cents => Beat(detune + cents))]);

    /// <summary>The same if nothing were coupled.</summary>
    public double FreeBeatAt(double detune) => Beat(detune);

    /// <summary>Slowest speed of a beat over its fastest; 0 where they lock.</summary>
    public double EvennessAt(double detune)
    {
        double a = Math.Abs(detune - Low), b = Math.Abs(detune - High);
        return LocksAt(detune) ? 0 : Width == 0 ? 1 : Math.Min(a, b) / Math.Max(a, b);
    }

    // Of the second's harmonic that meets one of the first's.
    private double Beat(double cents) => Ratio.Second * Hertz * (Math.Pow(2, cents / 1200) - 1);
}
