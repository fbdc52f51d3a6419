using Consort.Engine.Pitch.Builds.Draws;

namespace Consort.Engine.Fit;

/// <summary>How likely it is that the worst of some notes keeps a limit: by drawing from their joint normal distribution, always the
/// same numbers.</summary>
internal static class KeptChance
{
    private const int Draws = 400; // good to 0.025 at worst
    private const ulong Seed = 11;
    private const double Ridge = 1e-9;

    /// <summary>The chance, 0 to 1.</summary>
    /// <param name="cents">Means by note.</param>
    /// <param name="covariance">Their covariance.</param>
    /// <param name="asked">The notes that are asked.</param>
    /// <param name="limit">Cents.</param>
    public static double Of(double[] cents, double[][] covariance, IReadOnlyList<int> asked, double limit)
    {
        double[][] factor = Factor(covariance, asked);
        RandomBits bits = new(Seed);
        double[] normal = new double[asked.Count];
        int kept = 0;
        for (int draw = 0; draw < Draws; draw++)
        {
            for (int i = 0; i < normal.Length; i++)
                normal[i] = NormalLaw.Quantile(RandomBits.Share(bits.At((ulong)(draw * normal.Length + i))));
            bool within = true;
            for (int i = 0; i < asked.Count && within; i++)
            {
                double value = cents[asked[i]];
                for (int j = 0; j <= i; j++)
                    value += factor[i][j] * normal[j];
                within = Math.Abs(value) <= limit;
            }
            kept += within ? 1 : 0;
        }
        return (double)kept / Draws;
    }

    // A factor of what may be singular: a column that is nothing stays nothing.
    private static double[][] Factor(double[][] covariance, IReadOnlyList<int> asked)
    {
        double[][] rows = [.. asked.Select((a, i) => asked.Take(i + 1).Select(b => covariance[a][b]).ToArray())];
        for (int i = 0; i < rows.Length; i++)
            for (int j = 0; j <= i; j++)
            {
                double left = rows[i][j];
                for (int m = 0; m < j; m++)
                    left -= rows[i][m] * rows[j][m];
                rows[i][j] = i == j ? Math.Sqrt(Math.Max(0, left)) : rows[j][j] * rows[j][j] > Ridge ? left / rows[j][j] : 0;
            }
        return rows;
    }
}
