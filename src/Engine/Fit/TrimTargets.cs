namespace Consort.Engine.Fit;

/// <summary>Where trimmers should stand so that what is foretold is least: weighted least squares over the notes within the
/// trimmers' travel, by Gauss-Newton; a trimmer that comes to its end stays there.</summary>
internal sealed class TrimTargets(FittedUnit unit, int k)
{
    private const int MostPasses = 6;
    private const int Sweeps = 200;
    private const double OutsideWeight = 0.2; // notes of trims outside the octaves that are asked
    private const double Enough = 1e-5; // of the travel

    private readonly double[] weights = Weights(unit.Model);

    /// <summary>Positions when only some are turned.</summary>
    /// <param name="start">Where they stand.</param>
    /// <param name="turned">Which may be turned.</param>
    public double[] Find(double[] start, IReadOnlyCollection<int> turned)
    {
        double[] stand = [.. start.Select(position => Math.Clamp(position, 0, 1))];
        for (int pass = 0; pass < MostPasses; pass++)
        {
            double[] cents = unit.Cents(stand, k);
            double[][] slopes = unit.TrimSlopes(stand, k);
            double[] next = Descend(stand, cents, slopes, turned);
            double moved = next.Zip(stand, (a, b) => Math.Abs(a - b)).Max();
            stand = next;
            if (moved < Enough)
                break;
        }
        return stand;
    }

    /// <summary>Weight of every note: those that are asked, and a little of those at which trimmers are set.</summary>
    private static double[] Weights(UnitModel model)
    {
        double[] weights = new double[model.Volts.Length];
        foreach (int n in model.Sheet.HighNotes.Concat(model.Sheet.LowNotes).Where(n => n >= 0))
            weights[n] = OutsideWeight;
        foreach (int n in model.Asked)
            weights[n] = 1;
        return weights;
    }

    // Coordinate by coordinate within the box: few trimmers, one minimum.
    private double[] Descend(double[] stand, double[] cents, double[][] slopes, IReadOnlyCollection<int> turned)
    {
        (double[] at, double[] left) = ((double[])stand.Clone(), (double[])cents.Clone());
        for (int sweep = 0; sweep < Sweeps; sweep++)
        {
            double moved = 0;
            foreach (int j in turned)
            {
                double along = 0, square = 0;
                for (int n = 0; n < left.Length; n++)
                {
                    along += weights[n] * slopes[n][j] * left[n];
                    square += weights[n] * slopes[n][j] * slopes[n][j];
                }
                double to = square > 0 ? Math.Clamp(at[j] - along / square, 0, 1) : at[j];
                for (int n = 0; n < left.Length; n++)
                    left[n] += slopes[n][j] * (to - at[j]);
                moved = Math.Max(moved, Math.Abs(to - at[j]));
                at[j] = to;
            }
            if (moved < 0.1 * Enough)
                break;
        }
        return at;
    }
}
