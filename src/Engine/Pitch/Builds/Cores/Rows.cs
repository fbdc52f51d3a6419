namespace Consort.Engine.Pitch.Builds.Cores;

/// <summary>Sums of rows of numbers.</summary>
internal static class Rows
{
    /// <summary>Σ weight·row.</summary>
    public static double[] Mixed(double[][] rows, double[] weights)
    {
        double[] sum = new double[rows[0].Length];
        for (int j = 0; j < rows.Length; j++)
            for (int p = 0; p < sum.Length; p++)
                sum[p] += weights[j] * rows[j][p];
        return sum;
    }

    /// <summary>a + factor·b.</summary>
    public static double[] Sum(double[] a, double[] b, double factor = 1) => [.. a.Zip(b, (x, y) => x + factor * y)];
}
