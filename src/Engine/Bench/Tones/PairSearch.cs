namespace Consort.Engine.Bench.Tones;

/// <summary>
/// A first guess of two notes near unison: every pair of a grid of frequencies is tried, by what two lines at each of the
/// first multiples would hold together. Low multiples run into one another; higher ones lie further apart and tell.
/// </summary>
internal static class PairSearch
{
    private const double Reach = 60; // cents either way of the guess, which may be one of the two
    private const int Multiples = 8;
    private const int MostPlaces = 600;
    private const double PlacesPerLine = 4; // at the highest multiple
    private const double LeastApart = 0.2; // lines, at the highest multiple

    /// <summary>How far apart two may lie that are told apart, of their frequency: 50 cents.</summary>
    public static double Spread { get; } = Math.Pow(2, 50.0 / 1200) - 1;

    private static readonly double Width = 2 * (Math.Pow(2, Reach / 1200) - 1);

    /// <summary>How much of a recording the grid can look at: its places grow with every sample.</summary>
    public static int Count(int samples, double guess)
    {
        double most = MostPlaces * 2 * Math.PI / (Width * guess * PlacesPerLine * Multiples);
        return (int)Math.Min(samples, most);
    }

    /// <summary>The best pair, the lower one first, rad per sample; null when there is no room for two.</summary>
    public static (double Low, double High)? In(FoldedSignal signal, double guess)
    {
        int multiples = Math.Min(Multiples, (int)(Series.Highest / (guess * (1 + Width))));
        double line = 2 * Math.PI / signal.Count, step = line / PlacesPerLine / multiples;
        int places = (int)(Width * guess / step) + 1;
        int apart = (int)Math.Ceiling(LeastApart * PlacesPerLine);
        if (multiples < 1 || places <= apart)
            return null;
        double first = guess - 0.5 * (places - 1) * step;
        TrigSum[][] sums = [.. Enumerable.Range(1, multiples).Select(k => TrigSums.Of(signal, [.. Enumerable.Range(0, places).Select(i => k * (first + i * step))]))];
        double[][] alike = [.. Enumerable.Range(1, multiples).Select(k => Alike(signal.Count, k * step, places))];
        (int Low, int High, double Held) best = (0, 0, 0);
        for (int i = 0; i < places; i++)
            for (int j = i + apart; j < places; j++)
            {
                double held = 0;
                for (int k = 0; k < multiples; k++)
                    held += Held(sums[k][i], sums[k][j], alike[k][j - i]);
                if (held > best.Held)
                    best = (i, j, held);
            }
        return best.High == 0 ? null : (first + best.Low * step, first + best.High * step);
    }

    // How much two lines so many steps apart are one, −1 to 1.
    private static double[] Alike(int count, double step, int places)
    {
        double[] alike = new double[places];
        for (int i = 1; i < places; i++)
            alike[i] = Math.Sin(0.5 * count * i * step) / Math.Sin(0.5 * i * step) / count;
        return alike;
    }

    // What two lines hold of a signal together; their cosines' and sines' product is the same.
    private static double Held(in TrigSum a, in TrigSum b, double alike)
    {
        double own = a.Cos * a.Cos + a.Sin * a.Sin + b.Cos * b.Cos + b.Sin * b.Sin;
        return (own - 2 * alike * (a.Cos * b.Cos + a.Sin * b.Sin)) / (1 - alike * alike);
    }
}
