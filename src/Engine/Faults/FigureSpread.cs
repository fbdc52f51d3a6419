using MathNet.Numerics.LinearAlgebra;

namespace Consort.Engine.Faults;

/// <summary>How the readings of some figures spread together about what a fault makes them, and how far they lie from it.</summary>
internal sealed class FigureSpread
{
    private const double Freedom = 4;
    private const double MovedShare = 0.04; // of what a fault moves: its own parts differ as well
    private const double Shrunk = 0.1; // a hundred builds do not know all correlations: this share of each variance stands alone
    private const double UnknownOctaves = 5, UnknownShare = 1; // what is not foretold may be anything

    private readonly FaultBook book;
    private readonly Matrix<double> sound;

    /// <summary>Of some figures of a book.</summary>
    public FigureSpread(FaultBook book, int[] read)
    {
        (this.book, Read) = (book, read);
        Matrix<double> departures = Matrix<double>.Build.Dense(book.Departures.Length, read.Length, (b, i) => book.Departures[b][read[i]]);
        sound = departures.TransposeThisAndMultiply(departures) / (book.Departures.Length - 1);
        for (int i = 0; i < read.Length; i++)
            for (int j = 0; j < i; j++)
                sound[i, j] = sound[j, i] = (1 - Shrunk) * sound[i, j];
    }

    /// <summary>Which figures, in order.</summary>
    public int[] Read { get; }

    /// <summary>Logarithm of how likely readings are with a fault, or with none, and the furthest of them in deviations.</summary>
    public (double Fit, double Furthest) Fit(double[] values, FaultEntry? entry)
    {
        (Matrix<double> lower, double[] left) = Whitened(entry, entry, (i, foretold) => values[i] - foretold);
        double fit = 0, furthest = 0;
        for (int i = 0; i < left.Length; i++)
        {
            fit -= Math.Log(lower[i, i]) + 0.5 * (Freedom + 1) * Math.Log(1 + left[i] * left[i] / Freedom);
            furthest = Math.Max(furthest, Math.Abs(left[i]));
        }
        return (fit, furthest);
    }

    /// <summary>How far two faults (or a fault and none) make the readings differ, in deviations of all of them together.</summary>
    public double Apart(FaultEntry one, FaultEntry? other)
    {
        (_, double[] left) = Whitened(one, other, (i, foretold) => Known(one, other, Read[i]) ? book.Foretold(other, Read[i]) - foretold : 0);
        return Math.Sqrt(left.Sum(z => z * z));
    }

    /// <summary>Standard deviation of one figure's reading about what a fault makes it.</summary>
    public double Width(int figure, FaultEntry? entry)
    {
        double own = book.Departures.Sum(departure => departure[figure] * departure[figure]) / (book.Departures.Length - 1);
        return Math.Sqrt(own + Alone(figure, entry));
    }

    private bool Known(FaultEntry one, FaultEntry? other, int figure) => double.IsFinite(book.Foretold(one, figure)) && double.IsFinite(book.Foretold(other, figure));

    // The residuals' independent parts, by Cholesky's factor of their covariance.
    private (Matrix<double> Lower, double[] Left) Whitened(FaultEntry? one, FaultEntry? other, Func<int, double, double> residual)
    {
        Matrix<double> all = sound.Clone();
        double[] left = new double[Read.Length];
        for (int i = 0; i < left.Length; i++)
        {
            all[i, i] += other == one ? Alone(Read[i], one) : Math.Max(Alone(Read[i], one), Alone(Read[i], other));
            double foretold = book.Foretold(one, Read[i]);
            left[i] = residual(i, double.IsFinite(foretold) ? foretold : book.Sound[Read[i]]);
        }
        Matrix<double> lower = all.Cholesky().Factor;
        for (int i = 0; i < left.Length; i++)
        {
            for (int j = 0; j < i; j++)
                left[i] -= lower[i, j] * left[j];
            left[i] /= lower[i, i];
        }
        return (lower, left);
    }

    // Variance of one figure that it shares with no other.
    private double Alone(int figure, FaultEntry? entry)
    {
        double foretold = book.Foretold(entry, figure);
        if (!double.IsFinite(foretold))
            return Math.Pow(book.Figures[figure].Kind == FigureKind.Pitch ? UnknownOctaves : UnknownShare * Math.Abs(book.Sound[figure]) + 1, 2);
        double moved = MovedShare * (foretold - book.Sound[figure]), meter = book.Meter(figure, foretold);
        return moved * moved + meter * meter;
    }
}
