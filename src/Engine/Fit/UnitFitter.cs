using System.Collections.Immutable;

namespace Consort.Engine.Fit;

/// <summary>
/// Finds what a unit's parts likely are from its readings: the maximum of the posterior, found by repeated linearisation
/// (Gauss-Newton on a normal prior), with its covariance. How far the prior is to be trusted comes from the readings
/// themselves (evidence, MacKay, Neural Computation 4 (1992) 415, from memory): a factor that widens all parts' spreads,
/// and a smooth error over the keyboard that no part of the design explains. One thread at a time.
/// </summary>
public sealed class UnitFitter
{
    private const int MostPasses = 12;
    private const double Worse = 2; // a step that doubles the squares went too far
    private const double Enough = 0.002; // cents
    private const double ModelError = 0.1; // cents: two levels against transients, docs/decisions/two-levels.md

    private readonly UnitModel model;
    private readonly UnitReader reader;
    private readonly double[][] smooth; // factor of the smooth error's kernel, by note

    /// <summary>For one unit.</summary>
    public UnitFitter(UnitModel model)
    {
        this.model = model;
        reader = new(model);
        smooth = SmoothError.Factor(model.Volts, model.Place.Law.VoltsPerOctave);
    }

    /// <summary>Fits. Needs one reading at least.</summary>
    public FittedUnit Fit(UnitPoints points)
    {
        Layout layout = new(model, points);
        double[] x = new double[layout.Length];
        NormalUpdate update = new(layout, points, ModelError);
        double[] fitted = [];
        double[] before = x;
        double misfit = double.PositiveInfinity;
        PriorWidth width = new(1, SmoothError.Least);
        for (int pass = 0; pass < MostPasses; pass++)
        {
            (double[] at, double[][] slopes) = Linearise(points, x, layout);
            // Beyond what the design can do the model has no pitch, or a wild one: half the way back.
            double left = Misfit(points, at);
            if (pass > 0 && !(left <= Worse * misfit + at.Length))
            {
                x = [.. x.Zip(before, (now, then) => 0.5 * (now + then))];
                continue;
            }
            if (pass > 0 && Largest(at, fitted) < Enough)
                break;
            (fitted, before, misfit) = (at, x, left);
            x = update.Solve(at, slopes, x, out width);
        }
        return new(model, points, layout, x, update, width, [.. Linearise(points, x, layout).At], smooth);
    }

    private static double Misfit(UnitPoints points, double[] at) =>
        at.Select((value, i) => Math.Pow((points.Points[i].Cents - value) / Math.Max(ModelError, points.Points[i].Deviation), 2)).Sum();

    private static double Largest(double[] a, double[] b) => a.Zip(b, (one, other) => Math.Abs(one - other)).Max();

    private (double[] At, double[][] Slopes) Linearise(UnitPoints points, double[] x, Layout layout)
    {
        int count = points.Points.Length;
        (double[] at, double[][] slopes) = (new double[count], new double[count][]);
        // Readings with the trimmers alike, at one temperature, share one look at the model.
        foreach (IGrouping<string, int> alike in Enumerable.Range(0, count).GroupBy(i => $"{points.Points[i].Temperature} {string.Join(' ', points.Points[i].Turned)} {string.Join(' ', points.Points[i].Places)}"))
        {
            UnitPoint one = points.Points[alike.First()];
            double[] stand = layout.Stand(x, points, one);
            double[] cents = reader.Cents(x.AsSpan(0, layout.Parts), stand, one.Temperature);
            double[][] noteSlopes = reader.Slopes(x.AsSpan(0, layout.Parts), stand, one.Temperature);
            foreach (int i in alike)
                (at[i], slopes[i]) = layout.Row(model.Between(points.Points[i].Volts), cents, noteSlopes, smooth, x, points.Points[i]);
        }
        return (at, slopes);
    }
}
