using Consort.Engine.Bench.Readings;

namespace Consort.Engine.Bench.History;

/// <summary>A reading as the log keeps it.</summary>
/// <param name="Volts">Control voltage, V.</param>
/// <param name="VoltsUncertainty">Standard uncertainty of it, V.</param>
/// <param name="Hertz">Frequency.</param>
/// <param name="Uncertainty">Standard uncertainty of it, Hz.</param>
/// <param name="Kelvin">Temperature, K; null when nobody said.</param>
/// <param name="From">Where it comes from.</param>
public sealed record KeptReading(double Volts, double VoltsUncertainty, double Hertz, double Uncertainty, double? Kelvin, string From)
{
    /// <summary>Power of the note over what is beside it, dB; null where it was written and not heard.</summary>
    public double? SignalToNoise { get; init; }

    /// <summary>Change of pitch while it was heard, cents.</summary>
    public double? DriftCents { get; init; }

    /// <summary>Nearest of the usual shapes, in lower case.</summary>
    public string? Shape { get; init; }

    /// <summary>Share of the period above the middle, of a pulse, 0 to 1.</summary>
    public double? Duty { get; init; }

    /// <summary>Harmonics over the first, r.m.s.</summary>
    public double? Distortion { get; init; }

    /// <summary>From peak to peak, V; null when the recorder's full scale is not known.</summary>
    public double? VoltsPeakToPeak { get; init; }

    /// <summary>Of what was measured.</summary>
    public static KeptReading Of(UnitReading reading) =>
        new(reading.Control.Value, reading.ControlUncertainty, reading.Frequency.Value, reading.Uncertainty, reading.Kelvin, reading.From)
        {
            SignalToNoise = reading.Heard?.Tone?.SignalToNoise,
            DriftCents = reading.Heard?.Tone?.DriftCents,
            Shape = reading.Heard?.Wave?.Shape.ToString().ToLowerInvariant(),
            Duty = reading.Heard?.Wave?.Duty,
            Distortion = reading.Heard?.Wave?.Distortion,
            VoltsPeakToPeak = reading.Heard?.Wave is { InVolts: true } wave ? wave.PeakToPeak : null,
        };
}
