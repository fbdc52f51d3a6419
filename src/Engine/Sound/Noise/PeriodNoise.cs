using System.Collections.Immutable;

namespace Consort.Engine.Sound.Noise;

/// <summary>What one source of noise does to a period.</summary>
/// <param name="Source">Part and mechanism, as <c>lead/R3 thermal</c>.</param>
/// <param name="Jitter">Its share of the variance of one period, s².</param>
/// <param name="Walk">Its share of the variance that the phase gains in each period in the long run, s².</param>
/// <param name="Flicker">Its share of the frequency's noise that grows as 1/f: density at 1 Hz, shares² per Hz.</param>
/// <param name="Slow">How the frequency follows the slow part of it, shares per √Hz; the sign tells which way.</param>
public readonly record struct NoiseCause(string Source, double Jitter, double Walk, double Flicker, double Slow);

/// <summary>
/// What the noise of all parts does to the period of an oscillator. White noise makes each period a little different and the
/// phase walk; noise that grows as 1/f makes the pitch wander slowly.
/// </summary>
/// <param name="Volts">Control voltage, V.</param>
/// <param name="Hertz">Frequency.</param>
/// <param name="Jitter">Root mean square of one period's error, s.</param>
/// <param name="Walk">Root of the variance that the phase gains in each period in the long run, s. It is <paramref name="Jitter"/>
/// where a period knows nothing of the one before.</param>
/// <param name="Flicker">Density of the frequency's 1/f noise at 1 Hz, shares² per Hz.</param>
/// <param name="Causes">By source, the greatest first in what is heard slowly.</param>
/// <param name="Truncation">Share of the answer that the sweep over past periods lost.</param>
public sealed record PeriodNoise(double Volts, double Hertz, double Jitter, double Walk, double Flicker, ImmutableArray<NoiseCause> Causes, double Truncation)
{
    /// <summary>Band in which slow pitch wander is stated, Hz: that of wow and flutter without its weighting (IEC 60386, from
    /// memory).</summary>
    public const double LowHertz = 0.2;

    /// <summary>Its upper end.</summary>
    public const double HighHertz = 200;

    private const double CentsPerShare = 1200 / 0.6931471805599453; // of small shares

    /// <summary>One-sided density of the frequency's white noise, shares² per Hz.</summary>
    public double Density => WalkDensity(Walk * Walk);

    /// <summary>One period against the mean, cents, root mean square.</summary>
    public double JitterCents => CentsPerShare * Jitter * Hertz;

    /// <summary>Pitch wander between <see cref="LowHertz"/> and <see cref="HighHertz"/>, cents, root mean square.</summary>
    public double WanderCents => CentsPerShare * Math.Sqrt(Wander(Density, Flicker));

    /// <summary>Share of one source in the wander's variance.</summary>
    public double ShareOf(NoiseCause cause) => Wander(WalkDensity(cause.Walk), cause.Flicker) / Wander(Density, Flicker);

    // The phase gains var(x) = D·τ, so the frequency has 2·D on one side.
    private double WalkDensity(double variance) => 2 * variance * Hertz;

    // Above half the frequency there is nothing that could be called its wander.
    private double Wander(double density, double flicker)
    {
        double high = Math.Max(LowHertz, Math.Min(HighHertz, Hertz / 2));
        return density * (high - LowHertz) + flicker * Math.Log(high / LowHertz);
    }
}
