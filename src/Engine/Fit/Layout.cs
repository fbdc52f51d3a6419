namespace Consort.Engine.Fit;

/// <summary>What the unknowns of a fit are, in order: numbers of the prior, the trimmers' first positions as departures from where
/// they are thought to stand, what was miscounted in turning each of them to each other place (or is not known of a place that is
/// told by itself), the smooth error at every note in its factor's terms, and what all readings share.</summary>
internal sealed class Layout
{
    private readonly Dictionary<(int Trimmer, double At, bool IsPlace), int> counted = [];
    private readonly List<double> countedDeviations = [];

    /// <summary>For readings of a unit.</summary>
    public Layout(UnitModel model, UnitPoints points)
    {
        (Parts, Trimmers, Notes) = (model.Prior.Latents.Length, model.Sheet.Count, model.Volts.Length);
        foreach (UnitPoint point in points.Points)
            for (int j = 0; j < Trimmers; j++)
                if ((point.PlaceOf(j) is not null || point.Turned[j] != 0) && counted.TryAdd(Key(j, point), Parts + Trimmers + counted.Count))
                    countedDeviations.Add(Uncertain(model, points, j, point));
    }

    private static (int Trimmer, double At, bool IsPlace) Key(int trimmer, UnitPoint at) =>
        at.PlaceOf(trimmer) is { } place ? (trimmer, place, true) : (trimmer, at.Turned[trimmer], false);

    // A stop is felt; a place between is seen no better than turns are counted.
    private static double Uncertain(UnitModel model, UnitPoints points, int j, UnitPoint point) =>
        point.PlaceOf(j) is 0 or 1 ? model.Sheet.Resolution[j]
        : points.Miscount / model.Sheet.Turns[j] + (point.PlaceOf(j) is null ? points.MiscountShare * Math.Abs(point.Turned[j]) : 0);

    /// <summary>Numbers of the prior.</summary>
    public int Parts { get; }

    /// <summary>Trimmers.</summary>
    public int Trimmers { get; }

    /// <summary>Notes of the model.</summary>
    public int Notes { get; }

    /// <summary>By other place of a trimmer: how far it may be miscounted, share of the travel.</summary>
    public IReadOnlyList<double> Counted => countedDeviations;

    /// <summary>First of the smooth error's.</summary>
    public int Smooth => Parts + Trimmers + countedDeviations.Count;

    /// <summary>All unknowns.</summary>
    public int Length => Smooth + Notes + 1;

    /// <summary>Where the trimmers stood at a reading.</summary>
    public double[] Stand(double[] x, UnitPoints points, UnitPoint at)
    {
        double[] stand = new double[Trimmers];
        for (int j = 0; j < Trimmers; j++)
            stand[j] = (at.PlaceOf(j) ?? points.Start[j] + x[Parts + j] + at.Turned[j]) + (counted.TryGetValue(Key(j, at), out int beside) ? x[beside] : 0);
        return stand;
    }

    /// <summary>A trimmer's position as it stood at a reading, as slopes by the unknowns.</summary>
    public double[] Position(int trimmer, UnitPoint at)
    {
        double[] slopes = new double[Length];
        slopes[Parts + trimmer] = at.PlaceOf(trimmer) is null ? 1 : 0;
        if (counted.TryGetValue(Key(trimmer, at), out int beside))
            slopes[beside] = 1;
        return slopes;
    }

    /// <summary>A reading's value and its slopes by every unknown, from those at the notes.</summary>
    public (double At, double[] Slopes) Row((int First, double[] Weights) between, double[] cents, double[][] noteSlopes, double[][] smooth, double[] x, UnitPoint stood)
    {
        double[] slopes = new double[Length];
        double at = x[^1];
        slopes[^1] = 1;
        for (int i = 0; i < between.Weights.Length; i++)
        {
            int n = between.First + i;
            double weight = between.Weights[i];
            at += weight * cents[n];
            for (int v = 0; v < Parts + Trimmers; v++)
                slopes[v] += weight * noteSlopes[n][v];
            for (int m = 0; m <= n; m++)
            {
                slopes[Smooth + m] += weight * smooth[n][m];
                at += weight * smooth[n][m] * x[Smooth + m];
            }
        }
        for (int j = 0; j < Trimmers; j++)
        {
            if (counted.TryGetValue(Key(j, stood), out int beside))
                slopes[beside] = slopes[Parts + j];
            if (stood.PlaceOf(j) is not null)
                slopes[Parts + j] = 0; // where it stood at first says nothing of it
        }
        return (at, slopes);
    }
}
