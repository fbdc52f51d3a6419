using System.Collections.Immutable;
using System.Numerics;

namespace Consort.Engine.Sound.Spectra;

/// <summary>The harmonics of a periodic wave.</summary>
/// <param name="Hertz">The fundamental.</param>
/// <param name="Mean">Direct part.</param>
/// <param name="Lines">The fundamental and what stands above it, as amplitude·exp(i·phase) of a cosine.</param>
public sealed record HarmonicReading(double Hertz, double Mean, ImmutableArray<Complex> Lines)
{
    /// <summary>Peak amplitude of the k-th harmonic; 1 is the fundamental.</summary>
    public double Amplitude(int k) => Lines[k - 1].Magnitude;

    /// <summary>The k-th harmonic against the fundamental, dB.</summary>
    public double Db(int k) => Decibels.Of(Amplitude(k) / Amplitude(1));

    /// <summary>Total harmonic distortion against the fundamental, 2nd to last harmonic read (IEC 60268-3: root of the sum
    /// of squares), a share.</summary>
    public double Distortion => Combine(Lines.Skip(1).Select(line => line.Magnitude / Amplitude(1)));

    /// <summary>Root of the sum of squares of shares, or of other things in one unit.</summary>
    public static double Combine(IEnumerable<double> shares) => Math.Sqrt(shares.Sum(share => share * share));

    /// <summary>Reads harmonics out of samples at the exact multiples of a known fundamental. Stretches of so many periods
    /// that neighbours stand two of the window's reaches apart leave nothing of one in the other but its sidelobes.</summary>
    public static HarmonicReading OfSamples(ReadOnlySpan<double> samples, double rate, double fundamental, int most, Window window)
    {
        double mean = Spectrum.LineAt(samples, rate, window, 0).Real;
        int count = Math.Min(most, (int)Math.Ceiling(rate / 2 / fundamental) - 1);
        ImmutableArray<Complex>.Builder lines = ImmutableArray.CreateBuilder<Complex>(count);
        for (int k = 1; k <= count; k++)
            lines.Add(Spectrum.LineAt(samples, rate, window, k * fundamental));
        return new(fundamental, mean, lines.ToImmutable());
    }

    /// <summary>Reads harmonics of one period of a wave given by points that straight lines join, by the exact integral: no
    /// sampling, no window, no aliases.</summary>
    /// <param name="times">Rising, from the period's start to its end, s.</param>
    /// <param name="values">The wave there; a jump is two points at one time.</param>
    public static HarmonicReading OfPeriod(ReadOnlySpan<double> times, ReadOnlySpan<double> values, int most) =>
        OfPeriods(times, values, 1, most);

    /// <summary>The same over so many whole periods, which averages what differs between them.</summary>
    public static HarmonicReading OfPeriods(ReadOnlySpan<double> times, ReadOnlySpan<double> values, int periods, int most)
    {
        double length = times[^1] - times[0];
        ImmutableArray<Complex>.Builder lines = ImmutableArray.CreateBuilder<Complex>(most);
        for (int k = 1; k <= most; k++)
            lines.Add(2 / length * Integral(times, values, 2 * Math.PI * k * periods / length));
        return new(periods / length, Integral(times, values, 0).Real / length, lines.ToImmutable());
    }

    // ∫ wave·exp(−iω(t − t₀)) dt over all points.
    private static Complex Integral(ReadOnlySpan<double> times, ReadOnlySpan<double> values, double omega)
    {
        Complex sum = Complex.Zero;
        for (int i = 1; i < times.Length; i++)
            if (times[i] > times[i - 1])
                sum += Piece(times[i - 1] - times[0], times[i] - times[i - 1], values[i - 1], values[i], omega);
        return sum;
    }

    private static Complex Piece(double from, double length, double low, double high, double omega)
    {
        double half = 0.5 * omega * length;
        double middle = from + 0.5 * length;
        Complex turn = Complex.FromPolarCoordinates(1, -omega * middle);
        double even = 0.5 * (low + high) * Sinc(half);
        double odd = 0.5 * (high - low) * SincSlope(half);
        return length * turn * new Complex(even, odd);
    }

    private static double Sinc(double x) => Math.Abs(x) < 1e-4 ? 1 - x * x / 6 : Math.Sin(x) / x;

    // d sinc/dx: the integral of a straight line through the middle of a piece.
    private static double SincSlope(double x) => Math.Abs(x) < 1e-3 ? -x / 3 + x * x * x / 30 : (Math.Cos(x) - Math.Sin(x) / x) / x;
}
