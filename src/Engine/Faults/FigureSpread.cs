using MathNet.Numerics.LinearAlgebra;

namespace Consort.Engine.Faults;

/// <summary>How the readings of some figures spread together about what is foretold, and how far they lie from it.</summary>
internal sealed class FigureSpread
{
    private const double Freedom = 4;
    private const double SoundTogether = 0.9; // a hundred builds do not know all correlations: the rest of each variance stands alone
    private const double FaultyTogether = 0.9 * 0.5; // half from sound builds, half from the few of its own
    private const double UnknownOctaves = 5; // what is not foretold may be anything

    private readonly FaultBook book;
    private readonly double[,] together;

    /// <summary>Of some figures of a book.</summary>
    public FigureSpread(FaultBook book, int[] read)
    {
        (this.book, Read) = (book, read);
        together = new double[read.Length, read.Length];
        for (int i = 0; i < read.Length; i++)
            for (int j = 0; j < i; j++)
                together[i, j] = book.Sound.Together(read[i], read[j]);
    }

    /// <summary>Which figures, in order.</summary>
    public int[] Read { get; }

    /// <summary>Logarithm of how likely readings are with what is foretold, and the furthest of them in deviations.</summary>
    public (double Fit, double Furthest) Fit(double[] values, Forecast forecast)
    {
        Matrix<double> lower = Covariance(forecast).Cholesky().Factor;
        double[] left = Whitened(lower, i => values[i] - Mean(forecast, Read[i]));
        double fit = 0, furthest = 0;
        for (int i = 0; i < left.Length; i++)
        {
            fit -= Math.Log(lower[i, i]) + 0.5 * (Freedom + 1) * Math.Log(1 + left[i] * left[i] / Freedom);
            furthest = Math.Max(furthest, Math.Abs(left[i]));
        }
        return (fit, furthest);
    }

    /// <summary>How far apart two forecasts lie, in deviations of all readings together (the mean of both covariances).</summary>
    public double Apart(Forecast one, Forecast other)
    {
        Matrix<double> lower = ((Covariance(one) + Covariance(other)) / 2).Cholesky().Factor;
        double[] left = Whitened(lower, i => double.IsFinite(one.Mean[Read[i]]) && double.IsFinite(other.Mean[Read[i]]) ? one.Mean[Read[i]] - other.Mean[Read[i]] : 0);
        return Math.Sqrt(left.Sum(z => z * z));
    }

    /// <summary>Standard deviation of one figure's reading about what is foretold.</summary>
    public double Width(int figure, Forecast forecast) => Math.Sqrt(Math.Pow(forecast.Deviation[figure], 2) + Alone(figure, forecast));

    private double Mean(Forecast forecast, int figure) => double.IsFinite(forecast.Mean[figure]) ? forecast.Mean[figure] : book.Sound.Mean[figure];

    private Matrix<double> Covariance(Forecast forecast)
    {
        Matrix<double> all = Matrix<double>.Build.Dense(Read.Length, Read.Length);
        bool isDrawn = forecast.Departures.Length > 0 && forecast != book.Sound;
        for (int i = 0; i < Read.Length; i++)
        {
            double deviation = forecast.Deviation[Read[i]];
            for (int j = 0; j < i; j++)
            {
                double share = isDrawn ? FaultyTogether * (together[i, j] + forecast.Together(Read[i], Read[j])) : SoundTogether * together[i, j];
                all[i, j] = all[j, i] = share * deviation * forecast.Deviation[Read[j]];
            }
            all[i, i] = deviation * deviation + Alone(Read[i], forecast);
        }
        return all;
    }

    // The independent parts of residuals, by Cholesky's factor of their covariance.
    private static double[] Whitened(Matrix<double> lower, Func<int, double> residual)
    {
        double[] left = new double[lower.RowCount];
        for (int i = 0; i < left.Length; i++)
        {
            left[i] = residual(i);
            for (int j = 0; j < i; j++)
                left[i] -= lower[i, j] * left[j];
            left[i] /= lower[i, i];
        }
        return left;
    }

    // Variance of one figure that it shares with no other.
    private double Alone(int figure, Forecast forecast)
    {
        double foretold = forecast.Mean[figure];
        if (!double.IsFinite(foretold))
            return Math.Pow(book.Figures[figure].Kind == FigureKind.Pitch ? UnknownOctaves : Math.Abs(book.Sound.Mean[figure]) + 1, 2);
        double moved = forecast.MovedShare * (foretold - book.Sound.Mean[figure]), meter = book.Meter(figure, foretold);
        return moved * moved + meter * meter;
    }
}
