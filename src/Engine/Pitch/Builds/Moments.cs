namespace Consort.Engine.Pitch.Builds;

/// <summary>Count, mean, variance and extremes of a stream of numbers, kept up as they come (Welford, Technometrics 4 (1962)
/// 419; merged after Chan, Golub, LeVeque, The American Statistician 37 (1983) 242; both from memory).</summary>
public struct Moments
{
    private double squares;

    /// <summary>How many.</summary>
    public long Count { get; private set; }

    /// <summary>Their mean.</summary>
    public double Mean { get; private set; }

    /// <summary>The least; infinity when there is none.</summary>
    public double Least { get; private set; } = double.PositiveInfinity;

    /// <summary>The greatest; minus infinity when there is none.</summary>
    public double Most { get; private set; } = double.NegativeInfinity;

    /// <summary>Of no numbers yet.</summary>
    public Moments() { }

    /// <summary>Variance of what they are a sample of; NaN of fewer than two.</summary>
    public readonly double Variance => Count > 1 ? squares / (Count - 1) : double.NaN;

    /// <summary>Its root.</summary>
    public readonly double Deviation => Math.Sqrt(Variance);

    /// <summary>Takes one more.</summary>
    public void Add(double x)
    {
        double from = x - Mean;
        Count++;
        Mean += from / Count;
        squares += from * (x - Mean);
        Least = Math.Min(Least, x);
        Most = Math.Max(Most, x);
    }

    /// <summary>Takes all of another stream's.</summary>
    public void Join(Moments other)
    {
        if (other.Count == 0)
            return;
        double from = other.Mean - Mean;
        long count = Count + other.Count;
        Mean += from * other.Count / count;
        squares += other.squares + from * from * Count * other.Count / count;
        Count = count;
        Least = Math.Min(Least, other.Least);
        Most = Math.Max(Most, other.Most);
    }
}
