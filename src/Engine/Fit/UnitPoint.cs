using System.Collections.Immutable;
using Consort.Engine.Bench.Readings;
using Consort.Engine.Circuit;
using Consort.Engine.Design;

namespace Consort.Engine.Fit;

/// <summary>One reading as the fit takes it.</summary>
/// <param name="Volts">Control voltage, V.</param>
/// <param name="Cents">Error against the unit's own law, cents.</param>
/// <param name="Deviation">Standard uncertainty of that, cents, without what all readings share.</param>
/// <param name="Temperature">Which of the model's temperatures.</param>
/// <param name="Turned">By trimmer of the sheet: how far it stood from where it stood at first, share of the travel.</param>
public sealed record UnitPoint(double Volts, double Cents, double Deviation, int Temperature, ImmutableArray<double> Turned)
{
    /// <summary>By trimmer of the sheet: where it stood, 0 to 1, when that is known whatever was turned before: at a stop, for
    /// one. Null for a trimmer of which it is not; left out for none.</summary>
    public ImmutableArray<double?> Places { get; init; } = [];

    /// <summary>Where a trimmer is known to have stood; null when that is not known.</summary>
    public double? PlaceOf(int trimmer) => trimmer < Places.Length ? Places[trimmer] : null;
}

/// <summary>All readings of a unit as the fit takes them.</summary>
/// <param name="Points">The readings.</param>
/// <param name="Start">By trimmer of the sheet: where it stood at the first of them, 0 to 1.</param>
/// <param name="StartDeviation">How sure that is, one standard deviation.</param>
/// <param name="Shared">Standard uncertainty that all readings share, cents: the recorder's clock.</param>
public sealed record UnitPoints(ImmutableArray<UnitPoint> Points, ImmutableArray<double> Start, ImmutableArray<double> StartDeviation, double Shared)
{
    private const double Miscounted = 0.15;
    private const double MiscountedShare = 0.02;

    // A trimmer of which nothing is said stands anywhere (evenly likely over its travel: JCGM 100:2008, 4.3.7).
    private const double Anywhere = 0.29;
    private const double Middle = 0.5;

    /// <summary>How far a count of turns may be off, turns, one standard deviation (common practice, no source).</summary>
    public double Miscount { get; init; } = Miscounted;

    /// <summary>The same as a share of what was turned.</summary>
    public double MiscountShare { get; init; } = MiscountedShare;

    /// <summary>Of a set of readings, in the order of their rounds.</summary>
    public static UnitPoints Of(UnitModel model, ReadingSet set)
    {
        TrimStep[] steps = [.. model.Trims];
        double[] turns = [.. steps.Select((_, j) => model.Sheet.Turns[j])];
        double?[] first = First(steps, set);
        ImmutableArray<UnitPoint>.Builder points = ImmutableArray.CreateBuilder<UnitPoint>(set.Readings.Length);
        double voltsPerOctave = model.Place.Law.VoltsPerOctave;
        foreach (UnitReading reading in set.Readings.OrderBy(reading => reading.Place))
        {
            double[] turned = new double[steps.Length];
            double?[] places = new double?[steps.Length];
            for (int j = 0; j < steps.Length; j++)
                if (reading.Stands.TryGetValue(steps[j].Trimmer, out TrimmerStand stand))
                {
                    turned[j] = stand.Turned / turns[j];
                    places[j] = stand.Position == first[j] ? null : stand.Position; // as at first, and as sure
                }
            double kelvin = reading.Kelvin ?? model.Kelvins[0];
            points.Add(new(reading.Control.Value, model.Place.Cents(reading.Control.Value, reading.Frequency.Value), reading.UncertaintyCents(voltsPerOctave), model.TemperatureAt(kelvin), [.. turned]) { Places = [.. places] });
        }
        return new(
            points.MoveToImmutable(),
            [.. first.Select(position => position ?? Middle)],
            [.. first.Select((position, j) => position is null ? Anywhere : model.Sheet.Resolution[j])],
            set.Clock.UncertaintyCents
        );
    }

    // Where trimmers stood before anything was turned: a place that is told later says nothing of it.
    private static double?[] First(TrimStep[] steps, ReadingSet set)
    {
        UnitReading? first = set.Readings.MinBy(reading => reading.Place);
        return [.. steps.Select(step => first is not null && first.Stands.TryGetValue(step.Trimmer, out TrimmerStand stand) ? stand.Position : null)];
    }
}
