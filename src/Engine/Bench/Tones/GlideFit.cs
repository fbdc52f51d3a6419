namespace Consort.Engine.Bench.Tones;

/// <summary>
/// The frequency of a sliding note in the middle of a short piece of recording: its first harmonics with a phase of ωm +
/// ½βm² + β²m³/6ω, which is a frequency that runs exponentially, as under a ramp of a volt-per-octave voltage.
/// </summary>
/// <param name="Omega">In the middle, rad per sample.</param>
/// <param name="Beta">How fast it slides there, rad per sample².</param>
/// <param name="Uncertainty">Standard uncertainty of <paramref name="Omega"/> from what is left over.</param>
/// <param name="LeftOver">Of the piece's energy, 0 to 1.</param>
internal sealed record GlideFit(double Omega, double Beta, double Uncertainty, double LeftOver)
{
    private const int Passes = 6;

    private static readonly int[] Stages = [1, 3, 12]; // harmonics: few forgive a rough guess

    /// <summary>Fits; null when nothing comes of it.</summary>
    public static GlideFit? To(double[] samples, double omega, double beta)
    {
        GlideFit fit = new(omega, beta, 0, 1);
        foreach (int stage in Stages)
        {
            int harmonics = Math.Clamp((int)(Series.Highest / (fit.Omega * 1.2)), 1, stage);
            for (int pass = 0; pass < Passes; pass++)
            {
                if (Step(samples, fit, harmonics) is not { } next)
                    return null;
                bool isStill = Math.Abs(next.Omega - fit.Omega) * samples.Length * harmonics < (stage == Stages[^1] ? 1e-6 : 0.1);
                fit = next;
                if (isStill)
                    break;
            }
        }
        return fit;
    }

    private static GlideFit? Step(double[] samples, GlideFit from, int harmonics)
    {
        int linear = 2 * harmonics + 1, count = samples.Length;
        List<double[]> columns = Basis(count, from, harmonics);
        double[] amplitudes = [.. columns.Select(column => Dot(column, samples))];
        if (CholeskyFactor.Of(Normal(columns)) is not { } still)
            return null;
        still.Solve(amplitudes);
        double[] rest = [.. samples];
        for (int j = 0; j < linear; j++)
            for (int i = 0; i < count; i++)
                rest[i] -= amplitudes[j] * columns[j][i];
        Slide(columns, from, harmonics, amplitudes);
        double[] scale = [.. columns.Select(column => Math.Sqrt(Dot(column, column)))];
        foreach ((double[] column, double size) in columns.Zip(scale))
            Divide(column, size);
        if (CholeskyFactor.Of(Normal(columns)) is not { } whole)
            return null;
        double[] moves = [.. columns.Select(column => Dot(column, rest))], unit = new double[columns.Count];
        whole.Solve(moves);
        unit[linear] = 1;
        whole.Solve(unit);
        double most = Math.PI / count / harmonics;
        double omega = from.Omega + Math.Clamp(moves[linear] / scale[linear], -most, most);
        double beta = from.Beta + Math.Clamp(moves[linear + 1] / scale[linear + 1], -4 * most / count, 4 * most / count);
        double left = Dot(rest, rest), variance = left / Math.Max(1, count - columns.Count);
        double energy = Dot(samples, samples) - amplitudes[0] * amplitudes[0] * count;
        double uncertainty = Math.Sqrt(variance * unit[linear]) / scale[linear];
        return omega > 0 && double.IsFinite(beta) ? new(omega, beta, uncertainty, left / Math.Max(energy, double.Epsilon)) : null;
    }

    private static double Dot(ReadOnlySpan<double> a, ReadOnlySpan<double> b) => CholeskyFactor.Dot(a, b, a.Length);

    private static void Divide(double[] column, double by)
    {
        for (int i = 0; i < column.Length; i++)
            column[i] /= by;
    }

    private static double[][] Normal(List<double[]> columns) =>
        [.. columns.Select((column, i) => (double[])[.. Enumerable.Range(0, i + 1).Select(j => Dot(column, columns[j]))])];

    // A constant, then cosine and sine of every harmonic.
    private static List<double[]> Basis(int count, GlideFit fit, int harmonics)
    {
        List<double[]> columns = [.. Enumerable.Range(0, 2 * harmonics + 1).Select(_ => new double[count])];
        for (int i = 0; i < count; i++)
        {
            double m = i - 0.5 * (count - 1);
            (double sin, double cos) = Math.SinCos(m * (fit.Omega + m * (0.5 * fit.Beta + m * fit.Beta * fit.Beta / (6 * fit.Omega))));
            (double s, double c) = (0, 1);
            columns[0][i] = 1;
            for (int k = 1; k <= harmonics; k++)
            {
                (s, c) = (s * cos + c * sin, c * cos - s * sin);
                columns[2 * k - 1][i] = c;
                columns[2 * k][i] = s;
            }
        }
        return columns;
    }

    // Two more columns: what a change of frequency and of slide would add.
    private static void Slide(List<double[]> columns, GlideFit fit, int harmonics, double[] amplitudes)
    {
        int count = columns[0].Length;
        double[] ofOmega = new double[count], ofBeta = new double[count];
        for (int i = 0; i < count; i++)
        {
            double m = i - 0.5 * (count - 1), turn = 0;
            for (int k = 1; k <= harmonics; k++)
                turn += k * (amplitudes[2 * k] * columns[2 * k - 1][i] - amplitudes[2 * k - 1] * columns[2 * k][i]);
            ofOmega[i] = turn * m;
            ofBeta[i] = turn * m * m * (0.5 + m * fit.Beta / (3 * fit.Omega));
        }
        columns.Add(ofOmega);
        columns.Add(ofBeta);
    }
}
