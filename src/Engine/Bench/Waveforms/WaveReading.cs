namespace Consort.Engine.Bench.Waveforms;

/// <summary>What a note's wave looks like, from its harmonics; ratios and percentages, levels in digital full scale or in
/// volts where that is known.</summary>
/// <param name="Shape">The nearest of the usual shapes.</param>
/// <param name="ShapeMisfit">What that shape leaves of the wave: r.m.s. over the wave's, of the harmonics' sizes.</param>
/// <param name="Duty">Share of the period above the middle between the two plateaus of a pulse, 0 to 1; null for other shapes.</param>
/// <param name="Rising">Share of the period in which a saw or triangle rises, 0 to 1; null for other shapes.</param>
/// <param name="Distortion">Harmonics 2 and up over the first, r.m.s. (IEC 60268-3's total harmonic distortion).</param>
/// <param name="PeakToPeak">Full scale is 2; V when <paramref name="InVolts"/>.</param>
/// <param name="Rms">Full scale of a sine is 0.707; V when <paramref name="InVolts"/>.</param>
/// <param name="InVolts">True when the recorder's full scale is known.</param>
/// <param name="Harmonics">Highest harmonic that was heard.</param>
public sealed record WaveReading(
    WaveShape Shape,
    double ShapeMisfit,
    double? Duty,
    double? Rising,
    double Distortion,
    double PeakToPeak,
    double Rms,
    bool InVolts,
    int Harmonics
);

/// <summary>The usual shapes of an oscillator's outputs.</summary>
public enum WaveShape
{
    /// <summary>Nearly one harmonic.</summary>
    Sine,

    /// <summary>Two straight flanks of any slopes: triangle, and saw at its end.</summary>
    Triangle,

    /// <summary>One straight flank and a jump.</summary>
    Saw,

    /// <summary>Two levels.</summary>
    Pulse,
}
