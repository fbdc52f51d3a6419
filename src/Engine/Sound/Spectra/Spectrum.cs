using System.Numerics;
using MathNet.Numerics.IntegralTransforms;

namespace Consort.Engine.Sound.Spectra;

/// <summary>The amplitudes of a stretch of samples, one for each bin from 0 to half the rate; a sine reads its peak.</summary>
/// <param name="Rate">Samples a second.</param>
/// <param name="Count">Samples that it was taken of.</param>
/// <param name="Window">Through which window.</param>
/// <param name="Amplitudes">By bin, in the samples' own unit; the first is the mean.</param>
public sealed record Spectrum(double Rate, int Count, Window Window, double[] Amplitudes)
{
    /// <summary>Width of a bin, Hz.</summary>
    public double BinHertz => Rate / Count;

    /// <summary>The spectrum of a stretch of samples of any length.</summary>
    public static Spectrum Of(ReadOnlySpan<double> samples, double rate, Window window)
    {
        double[] weights = window.Weights(samples.Length);
        Complex[] bins = new Complex[samples.Length];
        for (int n = 0; n < bins.Length; n++)
            bins[n] = new(samples[n] * weights[n], 0);
        Fourier.Forward(bins, FourierOptions.NoScaling);
        double[] amplitudes = new double[samples.Length / 2 + 1];
        double scale = 1 / (samples.Length * window.Coefficients[0]);
        for (int k = 0; k < amplitudes.Length; k++)
            amplitudes[k] = bins[k].Magnitude * (IsSingle(k, samples.Length) ? scale : 2 * scale);
        return new(rate, samples.Length, window, amplitudes);
    }

    // Bins that have no partner at a negative frequency.
    private static bool IsSingle(int bin, int count) => bin == 0 || 2 * bin == count;

    /// <summary>The line at a frequency, bin or not: the windowed sum at that very frequency; its angle is a cosine's.</summary>
    public static Complex LineAt(ReadOnlySpan<double> samples, double rate, Window window, double hertz)
    {
        double[] weights = window.Weights(samples.Length);
        double step = -2 * Math.PI * hertz / rate;
        Complex sum = Complex.Zero;
        for (int n = 0; n < samples.Length; n++)
            sum += weights[n] * samples[n] * Complex.FromPolarCoordinates(1, step * n);
        return sum * (hertz == 0 ? 1 : 2) / (samples.Length * window.Coefficients[0]);
    }
}
