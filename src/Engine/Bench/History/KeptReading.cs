using System.Collections.Immutable;
using System.Globalization;
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

    /// <summary>Where trimmers stood, by designator, as far as it was written down.</summary>
    public ImmutableDictionary<string, TrimmerStand> Stands { get; init; } = ImmutableDictionary<string, TrimmerStand>.Empty;

    /// <summary>The same as a text: <c>RV2@0.4</c> stands at 0.4 of its travel, <c>RV3+1.5</c> was turned 1.5 turns clockwise; null for
    /// nothing.</summary>
    public string? StandsText =>
        Stands.IsEmpty ? null
        : string.Join(' ', Stands.OrderBy(stand => stand.Key, StringComparer.Ordinal).Select(stand =>
            stand.Value.Position is { } position ? string.Create(CultureInfo.InvariantCulture, $"{stand.Key}@{position:R}") : string.Create(CultureInfo.InvariantCulture, $"{stand.Key}{(stand.Value.Turned < 0 ? "" : "+")}{stand.Value.Turned:R}")));

    /// <summary>Reads such a text; null when it is none.</summary>
    public static ImmutableDictionary<string, TrimmerStand>? ReadStands(string? text)
    {
        Dictionary<string, TrimmerStand> stands = new(StringComparer.Ordinal);
        foreach (string word in (text ?? "").Split(' ', StringSplitOptions.RemoveEmptyEntries))
        {
            int mark = word.AsSpan().IndexOfAny('@', '+', '-');
            if (mark <= 0 || !double.TryParse(word.AsSpan(word[mark] == '@' ? mark + 1 : mark), NumberStyles.Float, CultureInfo.InvariantCulture, out double number))
                return null;
            stands[word[..mark]] = word[mark] == '@' ? new(number, 0) : new(null, number);
        }
        return stands.ToImmutableDictionary(StringComparer.Ordinal);
    }

    /// <summary>Of what was measured.</summary>
    public static KeptReading Of(UnitReading reading) =>
        new(reading.Control.Value, reading.ControlUncertainty, reading.Frequency.Value, reading.Uncertainty, reading.Kelvin, reading.From)
        {
            Stands = reading.Stands,
            SignalToNoise = reading.Heard?.Tone?.SignalToNoise,
            DriftCents = reading.Heard?.Tone?.DriftCents,
            Shape = reading.Heard?.Wave?.Shape.ToString().ToLowerInvariant(),
            Duty = reading.Heard?.Wave?.Duty,
            Distortion = reading.Heard?.Wave?.Distortion,
            VoltsPeakToPeak = reading.Heard?.Wave is { InVolts: true } wave ? wave.PeakToPeak : null,
        };
}
