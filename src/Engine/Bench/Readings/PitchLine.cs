namespace Consort.Engine.Bench.Readings;

/// <summary>The straight line through pitch errors: what the tracking and the centre trim will take out.</summary>
/// <param name="CentsPerOctave">Its slope.</param>
/// <param name="CentsAtMiddle">The line at <paramref name="MiddleVolts"/>.</param>
/// <param name="MiddleVolts">Mean of the control voltages, V.</param>
/// <param name="Worst">Largest distance of a reading from it, cents.</param>
public sealed record PitchLine(double CentsPerOctave, double CentsAtMiddle, double MiddleVolts, double Worst)
{
    /// <summary>By least squares, every reading alike; null with readings at fewer than two voltages.</summary>
    public static PitchLine? Through(UnitPlace place, IReadOnlyCollection<UnitReading> readings)
    {
        (double Volts, double Cents)[] points = [.. readings.Select(reading => (reading.Control.Value, place.Cents(reading.Control.Value, reading.Frequency.Value)))];
        if (points.Select(point => point.Volts).Distinct().Count() < 2)
            return null;
        double middle = points.Average(point => point.Volts), mean = points.Average(point => point.Cents);
        double slope = points.Sum(point => (point.Volts - middle) * (point.Cents - mean)) / points.Sum(point => (point.Volts - middle) * (point.Volts - middle));
        double worst = points.Max(point => Math.Abs(point.Cents - mean - slope * (point.Volts - middle)));
        return new(slope * place.Law.VoltsPerOctave, mean, middle, worst);
    }
}
