using System.Collections.Immutable;
using System.Numerics;
using Consort.Engine.Sound.Drift;

namespace Consort.Engine.Sound.Playing;

/// <summary>How a voice is played and heard.</summary>
/// <param name="Score">What it plays.</param>
/// <param name="Strips">The mixer.</param>
/// <param name="Moves">Players whose voltage moves.</param>
/// <param name="Rate">Samples a second.</param>
/// <param name="MovedCents">Octave and fine together, cents.</param>
/// <param name="Glide">Time constant with which the control voltage follows the key, s; 0: at once.</param>
/// <param name="Attack">From silence to full, a straight line, s.</param>
/// <param name="Release">Back, s.</param>
public sealed record SoundSettings(
    Score Score,
    ImmutableArray<Strip> Strips,
    ImmutableArray<Modulation> Moves,
    int Rate = 48_000,
    double MovedCents = 0,
    double Glide = 0,
    double Attack = 0.005,
    double Release = 0.05
)
{
    /// <summary>Plays the noise of the circuits' parts, in pitch and beside the waves.</summary>
    public bool HasNoise { get; init; }

    /// <summary>Seed of that noise.</summary>
    public ulong NoiseSeed { get; init; } = 1;

    /// <summary>How warm the parts are during the piece; null: as warm as they were read, throughout.</summary>
    public TemperatureCourse? Course { get; init; }

    /// <summary>Mixers are coupled by capacitors: corner of the high-pass, Hz.</summary>
    public const double CouplingHertz = 2;

    /// <summary>What the rendered high-pass does to a sine, in samples: (1 − s)(1 − z⁻¹)/(1 − (1 − s)z⁻¹).</summary>
    public static Complex Coupling(double hertz, int rate)
    {
        double keep = Math.Exp(-2 * Math.PI * CouplingHertz / rate);
        Complex back = Complex.FromPolarCoordinates(1, -2 * Math.PI * hertz / rate);
        return keep * (1 - back) / (1 - keep * back);
    }
}
