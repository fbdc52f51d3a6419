namespace Consort.Engine.Fit;

/// <summary>What the unknowns of a fit are, in order: numbers of the prior, the trimmers' first positions as departures from where
/// they are thought to stand, what was miscounted in turning each of them to each other place, the smooth error at
/// every note in its factor's terms, and what all readings share.</summary>
internal sealed class Layout
{
    private readonly Dictionary<(int Trimmer, double Turned), int> counted = [];
    private readonly List<double> countedDeviations = [];

    /// <summary>For readings of a unit.</summary>
    public Layout(UnitModel model, UnitPoints points)
    {
        (Parts, Trimmers, Notes) = (model.Prior.Latents.Length, model.Sheet.Count, model.Volts.Length);
        foreach (UnitPoint point in points.Points)
            for (int j = 0; j < Trimmers; j++)
                if (point.Turned[j] != 0 && counted.TryAdd((j, point.Turned[j]), Parts + Trimmers + counted.Count))
                    countedDeviations.Add(points.Miscount / model.Sheet.Turns[j] + points.MiscountShare * Math.Abs(point.Turned[j]));
    }

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
            stand[j] = points.Start[j] + x[Parts + j] + at.Turned[j] + (counted.TryGetValue((j, at.Turned[j]), out int place) ? x[place] : 0);
        return stand;
    }

    /// <summary>A trimmer's position as it stood at a reading, as slopes by the unknowns.</summary>
    public double[] Position(int trimmer, UnitPoint at)
    {
        double[] slopes = new double[Length];
        slopes[Parts + trimmer] = 1;
        if (counted.TryGetValue((trimmer, at.Turned[trimmer]), out int place))
            slopes[place] = 1;
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
            if (counted.TryGetValue((j, stood.Turned[j]), out int place))
                slopes[place] = slopes[Parts + j];
        return (at, slopes);
    }
}
