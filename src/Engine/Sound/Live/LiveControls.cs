using System.Collections.Immutable;
using Consort.Engine.Sound.Playing;

namespace Consort.Engine.Sound.Live;

/// <summary>Where the controls of one strip stand.</summary>
/// <param name="Cents">Interval by which its oscillator is moved from where it stands in the voice.</param>
/// <param name="Gain">Its level, as a ratio.</param>
/// <param name="Place">−1 left, 0 middle, 1 right.</param>
/// <param name="IsSynced">False: it is not pulled, though the voice is wired so.</param>
public readonly record struct LiveStrip(double Cents, double Gain, double Place, bool IsSynced = true);

/// <summary>What a moved player does.</summary>
/// <param name="Volts">From where it stands, V.</param>
/// <param name="Depth">How far it is moved either way about that, V.</param>
/// <param name="Hertz">How often.</param>
/// <param name="Ratio">Above zero: so many times the first oscillator's pitch instead.</param>
/// <param name="IsTriangle">False: along a sine.</param>
public readonly record struct LiveMove(double Volts, double Depth = 0, double Hertz = 1, double Ratio = 0, bool IsTriangle = false);

/// <summary>What the oscillators do by themselves.</summary>
/// <param name="Noise">Amplitude of their noise against the circuits' own; 0: none.</param>
/// <param name="Warmer">So much warmer it is around their parts than when they were read, K.</param>
/// <param name="Following">Time constant with which the parts follow, s.</param>
public readonly record struct LiveUnrest(double Noise, double Warmer = 0, double Following = 0);

/// <summary>Where everything that can be moved while it sounds stands at one moment.</summary>
/// <param name="Strips">In the mixer's order.</param>
/// <param name="Moves">In the order of the settings' moves.</param>
/// <param name="Cents">Octave and fine together.</param>
/// <param name="Glide">Time constant with which the pitch follows the keys, s; 0: at once.</param>
/// <param name="Attack">From silence to full, a straight line, s.</param>
/// <param name="Release">Back, s.</param>
/// <param name="Level">Against full scale, as a ratio: so loud it becomes at most with all strips at 0 dB.</param>
public sealed record LiveControls(
    ImmutableArray<LiveStrip> Strips,
    ImmutableArray<LiveMove> Moves,
    double Cents = 0,
    double Glide = 0,
    double Attack = 0.005,
    double Release = 0.05,
    double Level = LiveControls.Quiet
)
{
    /// <summary>Noise and warmth, where they were read.</summary>
    public LiveUnrest Unrest { get; init; }

    /// <summary>What it starts at: −20 dB.</summary>
    public const double Quiet = 0.1;

    /// <summary>As a mixer and moves have it; the moves' rates and shapes with no depth.</summary>
    public static LiveControls Of(SoundSettings settings) =>
        new(
            [.. settings.Strips.Select(strip => new LiveStrip(strip.MovedCents, strip.Gain, strip.Place))],
            [.. settings.Moves.Select(move => new LiveMove(0, 0, move.Hertz ?? 1, move.Ratio, move.IsTriangle))],
            settings.MovedCents,
            settings.Glide,
            settings.Attack,
            settings.Release
        )
        {
            Unrest = new(settings.HasNoise ? 1 : 0),
        };
}
