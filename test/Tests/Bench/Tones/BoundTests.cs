using System.Collections.Immutable;
using Consort.Engine.Bench.Tones;
using MathNet.Numerics.LinearAlgebra;
using Xunit;

namespace Consort.Tests.Measuring.Tones;

/// <summary>The Cramér-Rao bound that the estimator reports, against published values and against brute force.</summary>
public sealed class BoundTests
{
    private const double Rate = 48000;
    private const double PerHertz = Rate / (2 * Math.PI);

    [Theory]
    [InlineData(4800, 0.01, 7.95774733e-4)]
    [InlineData(48000, 0.001, 2.51646061e-6)]
    public void Brute_force_gives_the_published_bound_of_a_complex_tone(int count, double sigma, double expected)
    {
        // Rife & Boorstyn, IEEE Trans. Inf. Theory IT-20 (1974) 591, about eq. (10), from memory: 12σ²fs²/(A²N(N²−1)), σ²
        // per real and imaginary part. Unknowns: amplitude, phase, frequency; real part above imaginary part.
        double omega = 1000 / PerHertz;
        double[] Both(Func<double, double> real, Func<double, double> imaginary) =>
            [.. DenseFisher.Column(count, real), .. DenseFisher.Column(count, imaginary)];
        Matrix<double> covariance = DenseFisher.Covariance(
            Both(m => Math.Cos(omega * m), m => Math.Sin(omega * m)),
            Both(m => -Math.Sin(omega * m), m => Math.Cos(omega * m)),
            Both(m => -m * Math.Sin(omega * m), m => m * Math.Cos(omega * m))
        );
        Assert.Equal(1, sigma * Math.Sqrt(covariance[2, 2]) * PerHertz / expected, 5e-9); // nine digits are given
    }

    [Fact]
    public void The_bound_of_a_real_tone_is_the_published_one()
    {
        // Kay, Fundamentals of Statistical Signal Processing I, ex. 3.14, from memory; exact Fisher at 1000 Hz, phase 0.3.
        const double Exact = 1.1254073265e-3;
        const int Count = 4800;
        double omega = 1000 / PerHertz;
        double[][] columns =
        [
            DenseFisher.Column(Count, m => Math.Cos(omega * m + 0.3)),
            DenseFisher.Column(Count, m => -Math.Sin(omega * m + 0.3)),
            DenseFisher.Column(Count, m => -m * Math.Sin(omega * m + 0.3)),
        ];
        Assert.Equal(1, 0.01 * Math.Sqrt(DenseFisher.Covariance(columns)[2, 2]) * PerHertz / Exact, 1e-9);
        // The estimator does not know the recording's mean: one unknown more, 0.003 % more deviation.
        double[] mean = DenseFisher.Column(Count, _ => 1);
        double withMean = 0.01 * Math.Sqrt(DenseFisher.Covariance([.. columns, mean])[2, 2]) * PerHertz;
        double ours = 0.01 * Math.Sqrt(Covariance(columns[0], new Series(omega, [1]))[0, 0]) * PerHertz;
        Assert.Equal(1, ours / withMean, 1e-9);
        Assert.Equal(1, ours / Exact, 5e-5);
    }

    [Fact]
    public void The_bounds_of_two_saws_and_hum_are_those_of_brute_force()
    {
        const int Count = 3001; // odd: a sample stands in the middle
        Series[] series = [new(441.3 / PerHertz, [1, 2, 3, 5, 8]), new(443.1 / PerHertz, [1, 2, 3, 4]), new(50.1 / PerHertz, [1, 3])];
        MadeTone tone = new(5, Count);
        double middle = 0.5 * (Count - 1);
        List<double[]> columns = [DenseFisher.Column(Count, _ => 1)], changes = [];
        foreach (Series one in series)
        {
            double[] change = new double[Count];
            foreach (int k in one.Harmonics)
            {
                double a = tone.Share(), b = tone.Share(), nu = k * one.Omega;
                columns.Add(DenseFisher.Column(Count, m => Math.Cos(nu * m), middle));
                columns.Add(DenseFisher.Column(Count, m => Math.Sin(nu * m), middle));
                for (int i = 0; i < Count; i++)
                {
                    double m = i - middle;
                    tone.Samples[i] += a * Math.Cos(nu * m) + b * Math.Sin(nu * m);
                    change[i] += k * m * (b * Math.Cos(nu * m) - a * Math.Sin(nu * m));
                }
            }
            changes.Add(change);
        }
        Matrix<double> expected = DenseFisher.Covariance([.. changes, .. columns]);
        double[,] ours = Covariance(tone.Samples, series);
        for (int p = 0; p < 3; p++)
            for (int q = 0; q < 3; q++)
                Assert.Equal(0, (ours[p, q] - expected[p, q]) / Math.Sqrt(expected[p, p] * expected[q, q]), 1e-7);
    }

    [Theory]
    [InlineData(0)]
    [InlineData(1e-7)]
    [InlineData(1e-4)]
    [InlineData(2.4e-4)]
    [InlineData(0.01)]
    [InlineData(1.3)]
    [InlineData(-2.9)]
    [InlineData(5.9)]
    public void Closed_sums_are_the_sums(double x)
    {
        foreach (int count in new[] { 2000, 2001 })
        {
            CosineSums sums = new(count);
            double[] times = [.. Enumerable.Range(0, count).Select(i => i - 0.5 * (count - 1))];
            HalfAngle at = HalfAngle.Of(x, count);
            double cosines = times.Sum(m => Math.Cos(x * m)), sines = times.Sum(m => m * Math.Sin(x * m)), squares = times.Sum(m => m * m * Math.Cos(x * m));
            // Rounding: N, N² and N³ times 1e-16, and for the last two what divides by the sine of a small angle.
            Assert.Equal(cosines, sums.Cosines(x, at), 1e-10 * count);
            Assert.Equal(sines, sums.TimesSines(x, at), 1e-10 * count * count);
            Assert.Equal(squares, sums.SquaresCosines(x, at), 1e-9 * Math.Pow(count, 3));
        }
    }

    private static double[,] Covariance(double[] samples, params Series[] series) =>
        SeriesFit.At(new(samples), new(samples.Length), [.. series])!.Covariance()!;
}
