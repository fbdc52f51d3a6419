namespace Consort.Engine.Bench.Tones;

/// <summary>
/// The least squares system of periodic series in a recording of N samples: a constant and, for every multiple, a cosine
/// and a sine, whose products have closed forms; and for every series the column that a change of its frequency adds.
/// </summary>
internal sealed class SeriesSystem
{
    private const double Delicate = 64; // below N·|ν₁ − ν₂| of this the difference's angles are worked out afresh

    private readonly IReadOnlyList<Series> series;
    private readonly CosineSums kernel;
    private readonly int count;
    private readonly int[] owner; // by column: which series; −1 the constant, which is column 0
    private readonly int[] multiple;
    private readonly HalfAngle[] angles;
    private readonly CholeskyFactor even;
    private readonly CholeskyFactor odd;

    private SeriesSystem(IReadOnlyList<Series> series, CosineSums kernel, int count)
    {
        (this.series, this.kernel, this.count) = (series, kernel, count);
        owner = [-1, .. series.SelectMany((one, p) => one.Harmonics.Select(_ => p))];
        multiple = [0, .. series.SelectMany(one => one.Harmonics)];
        Frequencies = [0, .. series.SelectMany(one => one.Harmonics.Select(k => k * one.Omega))];
        angles = [.. Frequencies.Select(frequency => HalfAngle.Of(frequency, count))];
        (even, odd) = (null!, null!);
    }

    private SeriesSystem(SeriesSystem whole, CholeskyFactor even, CholeskyFactor odd)
    {
        (series, kernel, count, owner, multiple, angles) = (whole.series, whole.kernel, whole.count, whole.owner, whole.multiple, whole.angles);
        Frequencies = whole.Frequencies;
        (this.even, this.odd) = (even, odd);
    }

    /// <summary>Of every column, rad per sample; the first is the constant.</summary>
    public double[] Frequencies { get; }

    /// <summary>Sets the system up and factors it; null when two multiples cannot be told apart in so many samples.</summary>
    public static SeriesSystem? Of(IReadOnlyList<Series> series, CosineSums kernel, int count)
    {
        SeriesSystem system = new(series, kernel, count);
        int columns = system.Frequencies.Length;
        double[][] cosines = new double[columns][], sines = new double[columns - 1][];
        for (int i = 0; i < columns; i++)
        {
            cosines[i] = new double[i + 1];
            if (i > 0)
                sines[i - 1] = new double[i];
            for (int j = 0; j <= i; j++)
            {
                double apart = system.Apart(i, j, kernel.Cosines), together = system.Together(i, j, kernel.Cosines);
                cosines[i][j] = 0.5 * (apart + together);
                if (j > 0)
                    sines[i - 1][j - 1] = 0.5 * (apart - together);
            }
        }
        return CholeskyFactor.Of(cosines) is { } even && CholeskyFactor.Of(sines) is { } odd ? new(system, even, odd) : null;
    }

    private delegate double Kernel(double x, in HalfAngle at);

    private double Together(int i, int j, Kernel sum) => sum(Frequencies[i] + Frequencies[j], angles[i] + angles[j]);

    private double Apart(int i, int j, Kernel sum)
    {
        double x = Frequencies[i] - Frequencies[j];
        return sum(x, Math.Abs(x) * count < Delicate ? HalfAngle.Of(x, count) : angles[i] - angles[j]);
    }

    /// <summary>The amplitudes that leave least: one for each column.</summary>
    public Amplitude[] Amplitudes(ReadOnlySpan<TrigSum> sums)
    {
        double[] cos = new double[sums.Length], sin = new double[sums.Length - 1];
        for (int j = 0; j < sums.Length; j++)
        {
            cos[j] = sums[j].Cos;
            if (j > 0)
                sin[j - 1] = sums[j].Sin;
        }
        even.Solve(cos);
        odd.Solve(sin);
        Amplitude[] found = new Amplitude[sums.Length];
        for (int j = 0; j < found.Length; j++)
            found[j] = new(cos[j], j == 0 ? 0 : sin[j - 1]);
        return found;
    }

    /// <summary>
    /// What the recording says about the frequencies once every amplitude has been given its due: JᵀJ after the amplitudes
    /// are projected out (Schur's complement), and Jᵀ of what is left over. Over σ² the first is Fisher's information.
    /// </summary>
    public (double[,] Information, double[] Pull) Frequency(ReadOnlySpan<Amplitude> amplitudes, ReadOnlySpan<TrigSum> sums)
    {
        int found = series.Count, columns = amplitudes.Length;
        double[][] onCos = [.. series.Select(_ => new double[columns])], onSin = [.. series.Select(_ => new double[columns - 1])];
        double[,] information = new double[found, found];
        for (int j = 1; j < columns; j++)
            for (int i = 0; i < columns; i++)
                Cross(i, j, amplitudes, onCos[owner[j]], onSin[owner[j]], information);
        double[] pull = Pull(amplitudes, sums, onCos, onSin);
        for (int p = 0; p < found; p++)
        {
            even.Forward(onCos[p]);
            odd.Forward(onSin[p]);
        }
        for (int p = 0; p < found; p++)
            for (int q = 0; q < found; q++)
                information[p, q] -= CholeskyFactor.Dot(onCos[p], onCos[q], columns) + CholeskyFactor.Dot(onSin[p], onSin[q], columns - 1);
        return (information, pull);
    }

    // The column of a frequency is Σ k·m·(b·cos − a·sin): on cosines its sine half counts, on sines its cosine half.
    private void Cross(int i, int j, ReadOnlySpan<Amplitude> amplitudes, double[] onCos, double[] onSin, double[,] information)
    {
        double together = Together(i, j, kernel.TimesSines), apart = Apart(i, j, kernel.TimesSines); // of ν_i − ν_j
        double k = multiple[j];
        onCos[i] -= k * amplitudes[j].Cos * 0.5 * (together - apart);
        if (i == 0)
            return;
        onSin[i - 1] += k * amplitudes[j].Sin * 0.5 * (together + apart);
        double squaresTogether = Together(i, j, kernel.SquaresCosines), squaresApart = Apart(i, j, kernel.SquaresCosines);
        information[owner[i], owner[j]] += 0.5 * k * multiple[i]
            * (amplitudes[i].Cos * amplitudes[j].Cos * (squaresApart - squaresTogether)
                + amplitudes[i].Sin * amplitudes[j].Sin * (squaresApart + squaresTogether));
    }

    private double[] Pull(ReadOnlySpan<Amplitude> amplitudes, ReadOnlySpan<TrigSum> sums, double[][] onCos, double[][] onSin)
    {
        double[] pull = new double[series.Count];
        for (int j = 1; j < amplitudes.Length; j++)
            pull[owner[j]] += multiple[j] * (amplitudes[j].Sin * sums[j].TimesCos - amplitudes[j].Cos * sums[j].TimesSin);
        for (int p = 0; p < pull.Length; p++)
            for (int i = 0; i < amplitudes.Length; i++)
                pull[p] -= amplitudes[i].Cos * onCos[p][i] + (i == 0 ? 0 : amplitudes[i].Sin * onSin[p][i - 1]);
        return pull;
    }
}
