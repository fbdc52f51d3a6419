using System.Collections.Immutable;

namespace Consort.Engine.Bench.History;

/// <summary>One sitting's pitch in two numbers.</summary>
/// <param name="Time">When.</param>
/// <param name="Occasion">Why.</param>
/// <param name="Kelvin">Mean temperature, K; null when nobody said.</param>
/// <param name="Readings">How many.</param>
/// <param name="Cents">Mean error at the voltages that all compared sittings have, cents.</param>
/// <param name="Uncertainty">Standard uncertainty of it, cents.</param>
/// <param name="Worst">Largest error of any of its readings by size, cents.</param>
public sealed record SittingPitch(DateTimeOffset Time, string? Occasion, double? Kelvin, int Readings, double Cents, double Uncertainty, double Worst);

/// <summary>How a unit's pitch moved over its sittings since it was last trimmed or mended.</summary>
/// <param name="Sittings">Those that are compared, in order.</param>
/// <param name="CommonVolts">Control voltages that all of them have.</param>
/// <param name="CentsPerYear">Slope of the mean error over time by weighted least squares; null with fewer than two sittings
/// or none in common.</param>
/// <param name="Uncertainty">Standard uncertainty of the slope from the readings' own; temperature is not in it.</param>
public sealed record UnitDrift(ImmutableArray<SittingPitch> Sittings, ImmutableArray<double> CommonVolts, double? CentsPerYear, double? Uncertainty)
{
    private const double Year = 365.25; // days
    private const double SameVolts = 1e-3; // V: 1.2 cents at 1 V/octave is below what a voltmeter is trusted with at the jack

    /// <summary>Of one unit's entries.</summary>
    public static UnitDrift Of(IReadOnlyCollection<LogEntry> entries)
    {
        DateTimeOffset since = entries.Where(entry => entry is TrimEntry or FaultEntry { Mended: true }).Select(entry => entry.Time).DefaultIfEmpty(DateTimeOffset.MinValue).Max();
        SittingEntry[] sittings = [.. entries.OfType<SittingEntry>().Where(sitting => sitting.Time >= since && !sitting.Readings.IsEmpty)];
        ImmutableArray<double> common = Common(sittings);
        ImmutableArray<SittingPitch> pitches = [.. sittings.Select(sitting => Pitch(sitting, common))];
        (double? slope, double? uncertainty) = common.IsEmpty ? (null, null) : Slope(pitches);
        return new(pitches, common, slope, uncertainty);
    }

    private static ImmutableArray<double> Common(SittingEntry[] sittings) =>
        sittings.Length == 0 ? []
        : [.. sittings[0].Readings.Select(reading => reading.Volts).Where(volts => sittings.All(sitting => sitting.Readings.Any(reading => Near(reading.Volts, volts)))).Distinct()];

    private static bool Near(double one, double other) => Math.Abs(one - other) < SameVolts;

    private static SittingPitch Pitch(SittingEntry sitting, ImmutableArray<double> common)
    {
        KeptReading[] compared = [.. sitting.Readings.Where(reading => common.Any(volts => Near(volts, reading.Volts)))];
        double[] kelvins = [.. sitting.Readings.Select(reading => reading.Kelvin).OfType<double>()];
        double mean = compared.Length == 0 ? double.NaN : compared.Average(sitting.Cents);
        double clock = sitting.Clock.UncertaintyCents;
        // The clock's error is one and the same in all readings; the rest averages out.
        double own = compared.Sum(reading => sitting.UncertaintyCents(reading) * sitting.UncertaintyCents(reading) - clock * clock);
        double uncertainty = compared.Length == 0 ? double.NaN : Math.Sqrt(own / compared.Length / compared.Length + clock * clock);
        return new(sitting.Time, sitting.Occasion, kelvins.Length == 0 ? null : kelvins.Average(), sitting.Readings.Length, mean, uncertainty,
            sitting.Readings.Max(reading => Math.Abs(sitting.Cents(reading))));
    }

    private static (double? Slope, double? Uncertainty) Slope(ImmutableArray<SittingPitch> pitches)
    {
        const double Least = 1e-3; // cents: a reading that claims to be exact still weighs finitely
        double sum = 0, times = 0;
        double[] weights = [.. pitches.Select(pitch => 1 / Math.Max(Least * Least, pitch.Uncertainty * pitch.Uncertainty))];
        double[] years = [.. pitches.Select(pitch => (pitch.Time - pitches[0].Time).TotalDays / Year)];
        for (int i = 0; i < years.Length; i++)
            (sum, times) = (sum + weights[i], times + weights[i] * years[i]);
        double middle = times / sum, square = 0, product = 0;
        for (int i = 0; i < years.Length; i++)
            (square, product) = (square + weights[i] * (years[i] - middle) * (years[i] - middle), product + weights[i] * (years[i] - middle) * pitches[i].Cents);
        return square > 0 ? (product / square, 1 / Math.Sqrt(square)) : (null, null);
    }
}
