namespace Consort.Engine.Faults;

/// <summary>Mean, least and most of every unknown of a circuit over a while, by the trapezoid.</summary>
internal sealed class MeanState(int length)
{
    private readonly double[] sum = new double[length], last = new double[length], least = new double[length], most = new double[length];
    private double begun, at;

    /// <summary>What <see cref="Read"/> reads, in its order.</summary>
    public static FigureKind[] Kinds { get; } = [FigureKind.Mean, FigureKind.Lowest, FigureKind.Highest, FigureKind.Swing];

    /// <summary>True once it has begun.</summary>
    public bool Counts { get; private set; }

    /// <summary>Begins at a moment.</summary>
    public void Begin(double time, double[] x)
    {
        (Counts, begun, at) = (true, time, time);
        x.AsSpan(0, length).CopyTo(last);
        x.AsSpan(0, length).CopyTo(least);
        x.AsSpan(0, length).CopyTo(most);
    }

    /// <summary>The state at the end of a step.</summary>
    public void Add(double time, double[] x)
    {
        if (!Counts)
            return;
        double half = 0.5 * (time - at);
        for (int i = 0; i < length; i++)
        {
            sum[i] += half * (last[i] + x[i]);
            last[i] = x[i];
            least[i] = Math.Min(least[i], x[i]);
            most[i] = Math.Max(most[i], x[i]);
        }
        at = time;
    }

    /// <summary>The mean of an unknown.</summary>
    public double Mean(int i) => at > begun ? sum[i] / (at - begun) : last[i];

    /// <summary>A net's figures against another's mean: a module's own 0 V stands still to within what meters show.</summary>
    public void Read(int row, int ground, Span<double> into)
    {
        double zero = Mean(ground);
        into[0] = Mean(row) - zero;
        into[1] = least[row] - zero;
        into[2] = most[row] - zero;
        into[3] = most[row] - least[row];
    }
}
