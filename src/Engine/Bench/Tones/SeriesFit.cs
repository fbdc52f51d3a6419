using System.Collections.Immutable;
using MathNet.Numerics.LinearAlgebra;

namespace Consort.Engine.Bench.Tones;

/// <summary>
/// Periodic series fitted to a recording by nonlinear least squares, which with white noise is the maximum likelihood
/// (Kay, Fundamentals of Statistical Signal Processing I, ch. 7 and ex. 3.14): Gauss and Newton's steps in the
/// frequencies, with all amplitudes solved exactly at each step.
/// </summary>
internal sealed class SeriesFit
{
    private readonly FoldedSignal signal;
    private readonly CosineSums kernel;
    private SeriesSystem system;
    private TrigSum[] sums;

    private SeriesFit(FoldedSignal signal, CosineSums kernel, ImmutableArray<Series> series, SeriesSystem system, TrigSum[] sums)
    {
        (this.signal, this.kernel, Series, this.system, this.sums) = (signal, kernel, series, system, sums);
        Amplitudes = system.Amplitudes(sums);
    }

    /// <summary>The series as they were found.</summary>
    public ImmutableArray<Series> Series { get; private set; }

    /// <summary>Of the constant, then of every multiple of every series.</summary>
    public Amplitude[] Amplitudes { get; private set; }

    /// <summary>Sum of squares that is left over.</summary>
    public double LeftOver
    {
        get
        {
            double held = 0;
            for (int j = 0; j < sums.Length; j++)
                held += Amplitudes[j].Cos * sums[j].Cos + Amplitudes[j].Sin * sums[j].Sin;
            return Math.Max(0, signal.Energy - held);
        }
    }

    /// <summary>Variance of one sample's noise, from what is left over.</summary>
    public double Variance => LeftOver / Math.Max(1, signal.Count - 2 * sums.Length + 1 - Series.Length);

    /// <summary>Length of the recording's description by this fit, with white noise: N·ln of what is left over, and ½·ln N for
    /// each unknown, twice (Schwarz, Annals of Statistics 6 (1978) 461, from memory). The shorter of two is likelier.</summary>
    public double Description => signal.Count * Math.Log(LeftOver) + (2 * sums.Length - 1 + Series.Length) * Math.Log(signal.Count);

    /// <summary>Fits amplitudes at the frequencies given; null when they cannot be told apart in so few samples.</summary>
    public static SeriesFit? At(FoldedSignal signal, CosineSums kernel, ImmutableArray<Series> series)
    {
        if (2 * series.Sum(one => one.Harmonics.Length) + series.Length + 1 >= signal.Count)
            return null;
        return SeriesSystem.Of(series, kernel, signal.Count) is { } system
            ? new(signal, kernel, series, system, TrigSums.Of(signal, system.Frequencies))
            : null;
    }

    /// <summary>Moves the frequencies until they rest or so many steps are done.</summary>
    /// <returns>True when they rest.</returns>
    public bool Improve(int steps)
    {
        for (int step = 0; step < steps; step++)
        {
            (double[,] information, double[] pull) = system.Frequency(Amplitudes, sums);
            if (Solve(information, pull) is not { } moves || !Move(moves))
                return false;
            if (IsRest(moves))
                return true;
        }
        return false;
    }

    // Half a step where a whole one leaves more over than before: far from the answer the slopes promise too much.
    private bool Move(double[] moves)
    {
        const int Halvings = 6;
        const double Rounding = 1e-13; // what is left over is a difference of two large sums
        double before = LeftOver;
        (ImmutableArray<Series> was, SeriesSystem old, TrigSum[] oldSums, Amplitude[] oldAmplitudes) = (Series, system, sums, Amplitudes);
        for (int halving = 0; halving <= Halvings; halving++)
        {
            double share = Math.Pow(0.5, halving);
            ImmutableArray<Series> next = [.. was.Select((one, p) => one with { Omega = one.Omega + share * Bounded(moves[p], one) })];
            if (next.All(IsAudible) && At(signal, kernel, next) is { } fit)
            {
                (Series, system, sums, Amplitudes) = (fit.Series, fit.system, fit.sums, fit.Amplitudes);
                if (LeftOver <= before + Rounding * signal.Energy || IsRest(moves))
                    return true;
            }
        }
        (Series, system, sums, Amplitudes) = (was, old, oldSums, oldAmplitudes);
        return false;
    }

    // A line of a spectrum is 2π/N wide: no step of the highest multiple goes past half of it.
    private double Bounded(double move, Series one)
    {
        double most = Math.PI / signal.Count / one.Harmonics[^1];
        return Math.Clamp(move, -most, most);
    }

    private bool IsAudible(Series one) => one.Omega > 0 && one.Omega * one.Harmonics[^1] < 0.5 * (Math.PI + Tones.Series.Highest);

    private bool IsRest(double[] moves)
    {
        const double Still = 1e-9; // of a line's width
        for (int p = 0; p < moves.Length; p++)
            if (Math.Abs(moves[p]) * Series[p].Harmonics[^1] * signal.Count > Still * 2 * Math.PI)
                return false;
        return true;
    }

    /// <summary>Covariance of the frequencies for noise of unit variance: the Cramér-Rao bound over σ², at the amplitudes
    /// found; null when it has none.</summary>
    public double[,]? Covariance()
    {
        (double[,] information, _) = system.Frequency(Amplitudes, sums);
        Matrix<double> inverse = Matrix<double>.Build.DenseOfArray(information).Inverse();
        for (int p = 0; p < Series.Length; p++)
            if (!(inverse[p, p] > 0) || double.IsInfinity(inverse[p, p]))
                return null;
        return inverse.ToArray();
    }

    /// <summary>The amplitudes of one series' multiples.</summary>
    public ReadOnlySpan<Amplitude> Of(int series)
    {
        int start = 1;
        for (int p = 0; p < series; p++)
            start += Series[p].Harmonics.Length;
        return Amplitudes.AsSpan(start, Series[series].Harmonics.Length);
    }

    /// <summary>Adds the whole model, or one series of it, to a signal; by 1 or by −1.</summary>
    public void AddTo(Span<double> into, double factor, int? only = null)
    {
        for (int p = 0; p < Series.Length; p++)
            if (only is null || only == p)
            {
                double[] frequencies = [.. Series[p].Harmonics.Select(k => k * Series[p].Omega)];
                double[] cos = [.. Of(p).ToArray().Select(amplitude => factor * amplitude.Cos)];
                double[] sin = [.. Of(p).ToArray().Select(amplitude => factor * amplitude.Sin)];
                TrigSums.Add(into, frequencies, cos, sin);
            }
        if (only is null)
            foreach (ref double sample in into)
                sample += factor * Amplitudes[0].Cos;
    }

    /// <summary>What the model leaves of the recording, sample by sample.</summary>
    public double[] Rest()
    {
        double[] rest = signal.Samples.ToArray();
        AddTo(rest, -1);
        return rest;
    }

    private static double[]? Solve(double[,] information, double[] pull)
    {
        double[] moves = Matrix<double>.Build.DenseOfArray(information).Solve(Vector<double>.Build.DenseOfArray(pull)).ToArray();
        return moves.All(double.IsFinite) ? moves : null;
    }
}
