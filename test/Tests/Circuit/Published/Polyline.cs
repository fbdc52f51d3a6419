using System.Numerics;

namespace Consort.Tests.Circuit.Published;

/// <summary>Fourier integrals of a wave given by its corners.</summary>
internal static class Polyline
{
    /// <summary>(1/T)·∫ wave·exp(−2πikt/T) over one period, exact for straight pieces.</summary>
    public static Complex Harmonic(ReadOnlySpan<(double Time, double Level)> wave, int k)
    {
        double start = wave[0].Time;
        double period = wave[^1].Time - start;
        Complex sum = Complex.Zero;
        for (int i = 1; i < wave.Length; i++)
        {
            double length = wave[i].Time - wave[i - 1].Time;
            if (length > 0)
                sum += Piece(wave[i - 1].Time - start, length, wave[i - 1].Level, wave[i].Level, 2 * Math.PI * k / period);
        }
        return sum / period;
    }

    private static Complex Piece(double from, double length, double low, double high, double omega)
    {
        double angle = omega * length;
        if (Math.Abs(angle) < 1e-4) // the closed form cancels: the middle of the chord serves to angle²/24 of a short piece
            return length * 0.5 * (low + high) * Complex.Exp(new(0, -omega * (from + 0.5 * length)));
        Complex turn = Complex.Exp(new(0, -angle));
        Complex even = (1 - turn) / new Complex(0, omega);
        Complex rising = (1 - turn * new Complex(1, angle)) / (new Complex(0, omega) * new Complex(0, angle));
        return Complex.Exp(new(0, -omega * from)) * (low * even + (high - low) * rising);
    }
}
