using System.Numerics;
using MathNet.Numerics.IntegralTransforms;

namespace Consort.Engine.Sound.Shapes;

/// <summary>
/// A periodic wave by its harmonics, tabled for sound at several heights of the last harmonic kept, so that at any pitch none
/// stands above what can be sampled.
/// </summary>
public sealed class SmoothTable
{
    // Straight lines between entries leave images of a harmonic k at (πk/length)²/2 of it: −112 dB at 16 points for the last,
    // which is the weakest, and below −130 dB for the first.
    private const int PointsPerHarmonic = 16;
    private const int LeastPoints = 4096;

    // Steps of the last harmonic: of a pass band to 20.6 kHz all up to 20 kHz is kept. What a table holds to set its corners
    // right is strongest there.
    private const double Steps = 1.03;

    private readonly int[] lasts;
    private readonly double[][] tables; // one entry more than the period: the first again
    private readonly Complex[] lines;

    private SmoothTable(Complex[] lines)
    {
        this.lines = lines;
        List<int> counts = [lines.Length];
        while (counts[^1] > 1)
            counts.Add(Math.Min(counts[^1] - 1, (int)(counts[^1] / Steps)));
        lasts = [.. counts];
        tables = new double[lasts.Length][];
    }

    /// <summary>From harmonics, the fundamental first, as amplitude·exp(i·phase) of cosines; without direct part.</summary>
    public static SmoothTable Of(IEnumerable<Complex> lines) => new([.. lines]);

    /// <summary>Number of the table whose harmonics all stay below so many cycles a sample at a pitch.</summary>
    public int Level(double cyclesPerSample, double highest)
    {
        for (int i = 0; i < lasts.Length; i++)
            if (lasts[i] * cyclesPerSample <= highest)
                return i;
        return lasts.Length; // not even the fundamental
    }

    /// <summary>A table's entries over one period, the first again at the end; null when nothing is left of it.</summary>
    public double[]? Entries(int level)
    {
        if (level >= tables.Length)
            return null;
        return tables[level] ??= Fill(lasts[level]);
    }

    /// <summary>The wave at a phase with all harmonics, slowly.</summary>
    public double At(double phase)
    {
        double sum = 0;
        for (int k = 0; k < lines.Length; k++)
            sum += lines[k].Magnitude * Math.Cos(2 * Math.PI * (k + 1) * phase + lines[k].Phase);
        return sum;
    }

    private double[] Fill(int last)
    {
        int length = LeastPoints;
        while (length < PointsPerHarmonic * last)
            length *= 2;
        Complex[] bins = new Complex[length];
        for (int k = 1; k <= last; k++)
        {
            bins[k] = lines[k - 1] / 2;
            bins[length - k] = Complex.Conjugate(lines[k - 1]) / 2;
        }
        Fourier.Inverse(bins, FourierOptions.NoScaling);
        double[] table = new double[length + 1];
        for (int i = 0; i < length; i++)
            table[i] = bins[i].Real;
        table[length] = table[0];
        return table;
    }
}
