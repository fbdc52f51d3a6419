using Consort.Engine.Bench.History;
using Consort.Engine.Bench.Readings;
using Consort.Engine.Fit;

namespace Consort.Engine.Bench.Batches;

/// <summary>How one unit's first readings lie from its design, and how far its parts let them.</summary>
/// <param name="Octaves">Of each reading, from 0 V.</param>
/// <param name="Cents">Errors less those of the design with its trimmers in the same places.</param>
/// <param name="Slopes">By reading: cents for a deviation of each part.</param>
/// <param name="Turns">By reading: cents for a deviation of each trimmer's place.</param>
/// <param name="Own">By reading: standard uncertainty, cents, without the clock's.</param>
/// <param name="Shared">The clock's, cents.</param>
internal sealed record UnitDeparture(double[] Octaves, double[] Cents, double[][] Slopes, double[][] Turns, double[] Own, double Shared)
{
    // Trimmers are set to their middle before the first readings where nobody says otherwise; by eye that is good to a fiftieth
    // of their travel (common practice, no source).
    private const double Middle = 0.5;
    private const double ByEye = 0.02;

    /// <summary>Of a sitting.</summary>
    public static UnitDeparture Of(UnitModel model, UnitReader reader, SittingEntry sitting)
    {
        double[] stand = [.. model.Trims.Select(step => Position(sitting, step.Trimmer))], still = new double[reader.Latents];
        double?[] kelvins = [.. sitting.Readings.Select(reading => reading.Kelvin)];
        int k = model.TemperatureAt(kelvins.Average() ?? model.Kelvins[0]);
        double[] design = reader.Cents(still, stand, k);
        double[][] slopes = reader.Slopes(still, stand, k);
        double octave = sitting.Law.VoltsPerOctave;
        (int First, double[] Weights)[] between = [.. sitting.Readings.Select(reading => model.Between(reading.Volts))];
        double At((int First, double[] Weights) place, Func<int, double> of) => place.Weights.Select((weight, i) => weight * of(place.First + i)).Sum();
        double clock = sitting.Clock.UncertaintyCents;
        return new(
            [.. sitting.Readings.Select(reading => reading.Volts / octave)],
            [.. sitting.Readings.Select((reading, i) => sitting.Cents(reading) - At(between[i], n => design[n]))],
            [.. between.Select(place => Enumerable.Range(0, reader.Latents).Select(v => At(place, n => slopes[n][v])).ToArray())],
            [.. between.Select(place => Enumerable.Range(reader.Latents, reader.Trimmers).Select(v => ByEye * At(place, n => slopes[n][v])).ToArray())],
            [.. sitting.Readings.Select(reading => Math.Sqrt(Math.Max(0, sitting.UncertaintyCents(reading) * sitting.UncertaintyCents(reading) - clock * clock)))],
            clock
        );
    }

    private static double Position(SittingEntry sitting, string trimmer) =>
        sitting.Readings.Select(reading => reading.Stands.TryGetValue(trimmer, out TrimmerStand stand) ? stand.Position : null).FirstOrDefault(position => position is not null) ?? Middle;

    /// <summary>A weighted sum of the departures, its foretold variance, and each part's in it.</summary>
    public (double Value, double Variance, double[] ByPart) Along(Func<double[], double[]> kind)
    {
        double[] weights = kind(Octaves);
        double Sum(Func<int, double> of) => weights.Select((weight, i) => weight * of(i)).Sum();
        double[] byPart = [.. Enumerable.Range(0, Slopes[0].Length).Select(v => Square(Sum(i => Slopes[i][v])))];
        double trims = Enumerable.Range(0, Turns[0].Length).Sum(t => Square(Sum(i => Turns[i][t])));
        double own = weights.Select((weight, i) => Square(weight * Own[i])).Sum() + Square(Shared * weights.Sum());
        return (Sum(i => Cents[i]), byPart.Sum() + trims + own, byPart);
    }

    private static double Square(double x) => x * x;
}
