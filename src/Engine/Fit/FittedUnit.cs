using System.Collections.Immutable;

namespace Consort.Engine.Fit;

/// <summary>A pitch error that is foretold.</summary>
/// <param name="Volts">Control voltage, V.</param>
/// <param name="Cents">Most likely error, cents.</param>
/// <param name="Deviation">Standard uncertainty, cents.</param>
public readonly record struct Foretold(double Volts, double Cents, double Deviation);

/// <summary>A part's likely departure.</summary>
/// <param name="What">Which, as <c>C6 tolerance</c>.</param>
/// <param name="Departure">In deviations of its spread.</param>
/// <param name="Deviation">Standard uncertainty of that; 1 when the readings say nothing of it.</param>
public readonly record struct LikelyPart(string What, double Departure, double Deviation);

/// <summary>What a unit likely is, from its readings.</summary>
public sealed class FittedUnit
{
    private readonly Layout layout;
    private readonly double[] x;
    private readonly NormalUpdate update;
    private readonly UnitReader reader;
    private readonly double[][] smooth;

    internal FittedUnit(UnitModel model, UnitPoints points, Layout layout, double[] x, NormalUpdate update, PriorWidth width, ImmutableArray<double> fitted, double[][] smooth)
    {
        (Model, Points, Width, Fitted) = (model, points, width, fitted);
        (this.layout, this.x, this.update, this.smooth) = (layout, x, update, smooth);
        reader = new(model);
        Surprise = update.Surprise([.. fitted], x);
    }

    /// <summary>The design's word of it.</summary>
    public UnitModel Model { get; }

    /// <summary>What it was fitted to.</summary>
    public UnitPoints Points { get; }

    /// <summary>How wide the prior had to be.</summary>
    public PriorWidth Width { get; }

    /// <summary>What the fit has for each reading, cents.</summary>
    public ImmutableArray<double> Fitted { get; }

    /// <summary>Chi-squared of the readings before the fit, with as many degrees of freedom as readings, where the design and its
    /// spread hold.</summary>
    public double Surprise { get; }

    private UnitPoint Last => Points.Points[^1];

    /// <summary>Where the trimmers stand now, after the last reading, 0 to 1.</summary>
    public ImmutableArray<double> Stand => [.. layout.Stand(x, Points, Last)];

    /// <summary>How sure that is, one standard deviation.</summary>
    public ImmutableArray<double> StandDeviation => [.. Enumerable.Range(0, layout.Trimmers).Select(j => Math.Sqrt(Math.Max(0, update.Covariance([layout.Position(j, Last)])[0][0])))];

    /// <summary>The parts that the readings say most of, the furthest out first.</summary>
    public ImmutableArray<LikelyPart> Parts(int most) =>
        [
            .. Enumerable.Range(0, layout.Parts)
                .OrderByDescending(v => Math.Abs(x[v]))
                .Take(most)
                .Select(v => new LikelyPart(Model.Prior.Names[v], x[v], Math.Sqrt(Math.Max(0, update.Covariance([Unit(v)])[0][0])))),
        ];

    /// <summary>Pitch errors at all notes with the trimmers at given positions, cents.</summary>
    internal double[] Cents(ReadOnlySpan<double> stand, int k)
    {
        double[] cents = reader.Cents(x.AsSpan(0, layout.Parts), stand, k);
        for (int n = 0; n < cents.Length; n++)
            for (int m = 0; m <= n; m++)
                cents[n] += smooth[n][m] * x[layout.Smooth + m];
        return cents;
    }

    /// <summary>Slopes of those by the trimmers' positions: row by note.</summary>
    internal double[][] TrimSlopes(ReadOnlySpan<double> stand, int k) =>
        [.. reader.Slopes(x.AsSpan(0, layout.Parts), stand, k).Select(row => row[layout.Parts..(layout.Parts + layout.Trimmers)])];

    /// <summary>Covariance of those, square cents; what all readings share is in it.</summary>
    internal double[][] Covariance(ReadOnlySpan<double> stand, int k)
    {
        double[] cents = new double[Model.Volts.Length];
        double[][] slopes = reader.Slopes(x.AsSpan(0, layout.Parts), stand, k);
        return update.Covariance([.. Enumerable.Range(0, cents.Length).Select(n => layout.Row((n, [1]), cents, slopes, smooth, x, Last).Slopes)]);
    }

    /// <summary>Standard uncertainty of every note's move from the bench's temperature to another, cents.</summary>
    internal double[] DriftDeviation(ReadOnlySpan<double> stand, int k)
    {
        double[] cents = new double[Model.Volts.Length];
        (double[][] here, double[][] there) = (reader.Slopes(x.AsSpan(0, layout.Parts), stand, 0), reader.Slopes(x.AsSpan(0, layout.Parts), stand, k));
        double[][] rows =
        [
            .. cents.Select((_, n) =>
            {
                double[] a = layout.Row((n, [1]), cents, here, smooth, x, Last).Slopes, b = layout.Row((n, [1]), cents, there, smooth, x, Last).Slopes;
                return a.Zip(b, (from, to) => to - from).ToArray();
            }),
        ];
        return [.. update.Covariance(rows).Select((row, n) => Math.Sqrt(Math.Max(0, row[n])))];
    }

    /// <summary>Pitch errors at all notes with the trimmers at given positions.</summary>
    /// <param name="stand">Position of each trimmer of the model, 0 to 1, reckoned from <see cref="Stand"/>.</param>
    /// <param name="k">Which temperature.</param>
    public ImmutableArray<Foretold> Predict(ReadOnlySpan<double> stand, int k = 0)
    {
        double[] cents = Cents(stand, k);
        double[][] covariance = Covariance(stand, k);
        return [.. cents.Select((value, n) => new Foretold(Model.Volts[n], value, Math.Sqrt(Math.Max(0, covariance[n][n]))))];
    }

    private double[] Unit(int v)
    {
        double[] unit = new double[layout.Length];
        unit[v] = 1;
        return unit;
    }
}
