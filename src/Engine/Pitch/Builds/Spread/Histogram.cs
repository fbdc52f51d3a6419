namespace Consort.Engine.Pitch.Builds.Spread;

/// <summary>Counts of a stream of numbers in fixed bins, from which quantiles are read: memory does not grow with the
/// stream, and streams may be joined in any order.</summary>
internal sealed class Histogram
{
    private readonly Func<double, double> toBin;
    private readonly Func<double, double> fromBin;
    private readonly long[] counts;

    private Histogram(int bins, Func<double, double> toBin, Func<double, double> fromBin) =>
        (counts, this.toBin, this.fromBin) = (new long[bins], toBin, fromBin);

    /// <summary>Of sizes from 10⁻⁴ up to 10⁴ in bins 1 % wide; quantiles are good to half of that.</summary>
    public static Histogram OfSizes() => new(1852, x => Math.Log(x / 1e-4) / Math.Log(1.01), bin => 1e-4 * Math.Pow(1.01, bin));

    /// <summary>Of shares from 0 to 1 in a thousand bins.</summary>
    public static Histogram OfShares() => new(1000, x => x * 1000, bin => bin / 1000);

    /// <summary>How many numbers.</summary>
    public long Count { get; private set; }

    /// <summary>Takes one; no number counts as the largest.</summary>
    public void Add(double x)
    {
        double bin = double.IsNaN(x) ? counts.Length - 1 : toBin(x);
        counts[(int)Math.Clamp(bin, 0, counts.Length - 1)]++;
        Count++;
    }

    /// <summary>Takes all of another.</summary>
    public void Join(Histogram other)
    {
        for (int i = 0; i < counts.Length; i++)
            counts[i] += other.counts[i];
        Count += other.Count;
    }

    /// <summary>The numbers in equal steps from 0 up; one of the own bins that lies across an edge is shared out evenly.</summary>
    /// <param name="to">Upper end of the last step, which holds all above too.</param>
    public long[] InSteps(int steps, double to)
    {
        long[] found = new long[steps];
        long before = 0;
        for (int i = 0; i < steps; i++)
        {
            long below = i + 1 == steps ? Count : (long)Math.Round(Below(to * (i + 1) / steps));
            found[i] = below - before;
            before = below;
        }
        return found;
    }

    private double Below(double x)
    {
        double bin = Math.Clamp(toBin(x), 0, counts.Length);
        int whole = (int)bin;
        double below = whole < counts.Length ? counts[whole] * (bin - whole) : 0;
        for (int i = 0; i < whole; i++)
            below += counts[i];
        return below;
    }

    /// <summary>The number below which a share of them lies; NaN of none.</summary>
    public double Quantile(double share)
    {
        if (Count == 0)
            return double.NaN;
        double wanted = share * Count;
        double below = 0;
        for (int i = 0; i < counts.Length; i++)
        {
            if (counts[i] > 0 && below + counts[i] >= wanted)
                return fromBin(i + (wanted - below) / counts[i]);
            below += counts[i];
        }
        return fromBin(counts.Length);
    }
}
