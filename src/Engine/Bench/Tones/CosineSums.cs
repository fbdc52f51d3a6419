namespace Consort.Engine.Bench.Tones;

/// <summary>
/// Closed forms of Σ cos xm, Σ m·sin xm and Σ m²·cos xm over times m counted from the middle of N samples: the Dirichlet
/// kernel sin(Nx/2)/sin(x/2) and its first two derivatives. They give every product of two columns of a fit without a
/// pass through the samples.
/// </summary>
internal sealed class CosineSums
{
    private const double Near = 0.5; // below N·x = 0.5 the closed forms lose digits, and the series needs few terms

    private readonly int count;
    private readonly double second, fourth, sixth, eighth, tenth;

    /// <summary>For so many samples.</summary>
    public CosineSums(int count)
    {
        this.count = count;
        for (double m = 0.5 * (count - 1); m > 0; m -= 1)
        {
            double square = m * m, fourthPower = square * square;
            second += 2 * square;
            fourth += 2 * fourthPower;
            sixth += 2 * square * fourthPower;
            eighth += 2 * fourthPower * fourthPower;
            tenth += 2 * square * fourthPower * fourthPower;
        }
    }

    /// <summary>Σ cos xm.</summary>
    /// <param name="x">rad per sample, for the series; its half and N halves of it come as sines and cosines.</param>
    public double Cosines(double x, in HalfAngle at) =>
        Math.Abs(count * x) < Near ? Series(x * x, count, second, fourth, sixth, eighth) : at.SinMany / at.Sin;

    /// <summary>Σ m·sin xm.</summary>
    public double TimesSines(double x, in HalfAngle at)
    {
        if (Math.Abs(count * x) < Near)
        {
            double q = x * x;
            return x * (second - q / 6 * (fourth - q / 20 * (sixth - q / 42 * (eighth - q / 72 * tenth))));
        }
        return (0.5 * at.SinMany * at.Cos - 0.5 * count * at.CosMany * at.Sin) / (at.Sin * at.Sin);
    }

    /// <summary>Σ m²·cos xm.</summary>
    public double SquaresCosines(double x, in HalfAngle at)
    {
        if (Math.Abs(count * x) < Near)
            return Series(x * x, second, fourth, sixth, eighth, tenth);
        double n = count, s = at.Sin, c = at.Cos;
        return (0.25 * (n * n - 1) * at.SinMany + (0.5 * n * at.CosMany * c - 0.5 * at.SinMany * c * c / s) / s) / s;
    }

    private static double Series(double q, double s0, double s2, double s4, double s6, double s8) =>
        s0 - q / 2 * (s2 - q / 12 * (s4 - q / 30 * (s6 - q / 56 * s8)));
}

/// <summary>Sine and cosine of x/2 and of N·x/2.</summary>
internal readonly record struct HalfAngle(double Sin, double Cos, double SinMany, double CosMany)
{
    /// <summary>Of a frequency, rad per sample, over so many samples.</summary>
    public static HalfAngle Of(double x, int count)
    {
        (double sin, double cos) = Math.SinCos(0.5 * x);
        (double sinMany, double cosMany) = Math.SinCos(0.5 * count * x);
        return new(sin, cos, sinMany, cosMany);
    }

    /// <summary>Of the sum of two frequencies.</summary>
    public static HalfAngle operator +(in HalfAngle a, in HalfAngle b) =>
        new(
            a.Sin * b.Cos + a.Cos * b.Sin,
            a.Cos * b.Cos - a.Sin * b.Sin,
            a.SinMany * b.CosMany + a.CosMany * b.SinMany,
            a.CosMany * b.CosMany - a.SinMany * b.SinMany
        );

    /// <summary>Of their difference.</summary>
    public static HalfAngle operator -(in HalfAngle a, in HalfAngle b) =>
        new(
            a.Sin * b.Cos - a.Cos * b.Sin,
            a.Cos * b.Cos + a.Sin * b.Sin,
            a.SinMany * b.CosMany - a.CosMany * b.SinMany,
            a.CosMany * b.CosMany + a.SinMany * b.SinMany
        );
}
