using System.Numerics;
using MathNet.Numerics.IntegralTransforms;

namespace Consort.Engine.Pitch.Locking;

/// <summary>Discrete Fourier transforms of an even number of real values, by complex ones of half the length: even values are taken as real
/// parts, odd ones as imaginary parts (Press et al., Numerical Recipes, "FFT of single real function"; formula from memory, held by a test).</summary>
internal static class RealTransform
{
    /// <summary>Σ x·exp(−2πi·jk/n) for k from 0 to n/2.</summary>
    public static Complex[] Forward(double[] values)
    {
        int half = values.Length / 2;
        Complex[] packed = new Complex[half];
        for (int j = 0; j < half; j++)
            packed[j] = new(values[2 * j], values[2 * j + 1]);
        Fourier.Forward(packed, FourierOptions.NoScaling);
        Complex[] harmonics = new Complex[half + 1];
        for (int k = 0; k <= half; k++)
        {
            Complex one = packed[k % half], mirrored = Complex.Conjugate(packed[(half - k) % half]);
            harmonics[k] = 0.5 * (one + mirrored) + Turned(k, half) * (new Complex(0, -0.5) * (one - mirrored));
        }
        return harmonics;
    }

    /// <summary>The values whose transform is n times that, of which the first n/2 + 1 are given.</summary>
    public static double[] Inverse(Complex[] harmonics)
    {
        int half = harmonics.Length - 1;
        Complex[] packed = new Complex[half];
        for (int k = 0; k < half; k++)
        {
            Complex one = harmonics[k], mirrored = Complex.Conjugate(harmonics[half - k]);
            packed[k] = one + mirrored + Complex.ImaginaryOne * (Complex.Conjugate(Turned(k, half)) * (one - mirrored));
        }
        Fourier.Inverse(packed, FourierOptions.NoScaling);
        double[] values = new double[2 * half];
        for (int j = 0; j < half; j++)
            (values[2 * j], values[2 * j + 1]) = (packed[j].Real, packed[j].Imaginary);
        return values;
    }

    // exp(−πi·k/half)
    private static Complex Turned(int k, int half)
    {
        (double sin, double cos) = Math.SinCos(Math.PI * k / half);
        return new(cos, -sin);
    }
}
