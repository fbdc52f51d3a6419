using Consort.Engine.Bench.Tones;

namespace Consort.Engine.Fit;

/// <summary>How wide the prior has to be for the readings to be no surprise.</summary>
/// <param name="Parts">Factor on the spread of all parts, 1 or more.</param>
/// <param name="Smooth">Deviation of an error that no part explains, cents.</param>
public readonly record struct PriorWidth(double Parts, double Smooth);

/// <summary>The linear step of a fit, in the space of readings: S = H·C₀·Hᵀ + R, gain C₀·Hᵀ·S⁻¹. The prior's widths are those of
/// the greatest evidence on a grid, with a word for the narrow ones.</summary>
internal sealed class NormalUpdate(Layout layout, UnitPoints points, double modelError)
{
    // Grid and penalties: a factor of two is nothing odd (tolerances are guesses), of ten it is.
    private static readonly double[] PartsWidths = [1, 1.4, 2, 2.8, 4, 5.7, 8, 12, 20];
    private static readonly double[] SmoothWidths = [SmoothError.Least, 0.15, 0.5, 1.5, 5, 15, 50];
    private const double PartsBend = 0.7; // in nepers
    private const double SmoothBend = 1.5;

    private double[][] slopes = [];
    private CholeskyFactor? factor;
    private double[] prior = [];

    /// <summary>The unknowns from readings linearised at x, whose prior mean is nothing.</summary>
    public double[] Solve(double[] at, double[][] rows, double[] x, out PriorWidth width)
    {
        slopes = rows;
        double[] wanted = [.. at.Select((value, i) => points.Points[i].Cents - value + Dot(rows[i], x))];
        width = Widest(wanted);
        prior = Prior(width);
        factor = Factor(Gram(prior)) ?? throw new InvalidOperationException("readings that the model cannot tell apart");
        double[] solved = (double[])wanted.Clone();
        factor.Solve(solved);
        double[] next = new double[layout.Length];
        for (int i = 0; i < rows.Length; i++)
            for (int v = 0; v < next.Length; v++)
                next[v] += prior[v] * rows[i][v] * solved[i];
        return next;
    }

    /// <summary>Squares of what readings depart from nothing known but the prior, in deviations: chi-squared of as many degrees of
    /// freedom as there are readings, where the design and its spread hold.</summary>
    public double Surprise(double[] at, double[] x)
    {
        double[] left = [.. at.Select((value, i) => points.Points[i].Cents - value + Dot(slopes[i], x))];
        CholeskyFactor plain = Factor(Gram(Prior(new(1, SmoothError.Least))))!;
        plain.Forward(left);
        return left.Sum(value => value * value);
    }

    /// <summary>Covariance, after the readings, of figures whose slopes by the unknowns are given.</summary>
    public double[][] Covariance(double[][] of)
    {
        double[][] whitened = [.. of.Select(row =>
        {
            double[] cross = [.. slopes.Select(reading => Product(reading, row))];
            factor!.Forward(cross);
            return cross;
        })];
        return [.. of.Select((row, a) => of.Select((other, b) => Product(row, other) - Dot(whitened[a], whitened[b])).ToArray())];
    }

    private double Product(double[] a, double[] b)
    {
        double sum = 0;
        for (int v = 0; v < a.Length; v++)
            sum += a[v] * prior[v] * b[v];
        return sum;
    }

    private PriorWidth Widest(double[] wanted)
    {
        double[] unit = Prior(new(0, 0)), parts = Only(0, layout.Parts), smooth = Only(layout.Smooth, layout.Notes);
        (double[][] fromUnit, double[][] fromParts, double[][] fromSmooth) = (Gram(unit), Gram(parts), Gram(smooth));
        (PriorWidth best, double most) = (new(1, SmoothError.Least), double.NegativeInfinity);
        foreach (double p in PartsWidths)
            foreach (double s in SmoothWidths)
            {
                double[][] sum = [.. fromUnit.Select((row, i) => row.Select((value, j) => value + p * p * fromParts[i][j] + s * s * fromSmooth[i][j]).ToArray())];
                double evidence = Evidence(sum, wanted) - Odd(p, PartsWidths[0], PartsBend) - Odd(s, SmoothWidths[0], SmoothBend);
                if (evidence > most)
                    (best, most) = (new(p, s), evidence);
            }
        return best;
    }

    private static double Odd(double width, double least, double bend) => 0.5 * Math.Pow(Math.Log(width / least) / bend, 2);

    private double Evidence(double[][] gram, double[] wanted)
    {
        if (Factor(gram) is not { } own)
            return double.NegativeInfinity;
        double[] white = (double[])wanted.Clone();
        own.Forward(white);
        double log = 0;
        for (int i = 0; i < gram.Length; i++)
            log += Math.Log(gram[i][i]); // the factor stands where the matrix stood
        return -log - 0.5 * white.Sum(value => value * value);
    }

    // Variances of all unknowns before the readings.
    private double[] Prior(PriorWidth width)
    {
        double[] variances = new double[layout.Length];
        variances.AsSpan(0, layout.Parts).Fill(width.Parts * width.Parts);
        for (int j = 0; j < layout.Trimmers; j++)
            variances[layout.Parts + j] = points.StartDeviation[j] * points.StartDeviation[j];
        for (int c = 0; c < layout.Counted.Count; c++)
            variances[layout.Parts + layout.Trimmers + c] = layout.Counted[c] * layout.Counted[c];
        variances.AsSpan(layout.Smooth, layout.Notes).Fill(width.Smooth * width.Smooth);
        variances[^1] = points.Shared * points.Shared;
        return variances;
    }

    private double[] Only(int first, int count)
    {
        double[] variances = new double[layout.Length];
        variances.AsSpan(first, count).Fill(1);
        return variances;
    }

    private double[][] Gram(double[] variances) =>
        [
            .. slopes.Select((row, i) =>
            {
                double[] weighted = [.. row.Select((value, v) => value * variances[v])];
                return Enumerable.Range(0, i + 1).Select(j => Dot(weighted, slopes[j])).ToArray();
            }),
        ];

    private CholeskyFactor? Factor(double[][] gram)
    {
        for (int i = 0; i < gram.Length; i++)
            gram[i][i] += points.Points[i].Deviation * points.Points[i].Deviation + modelError * modelError;
        return CholeskyFactor.Of(gram);
    }

    private static double Dot(double[] a, double[] b) => CholeskyFactor.Dot(a, b, Math.Min(a.Length, b.Length));
}
