using System.Numerics;
using Consort.Engine.Quantities;
using MathNet.Numerics.IntegralTransforms;

namespace Consort.Engine.Pitch.Locking;

/// <summary>
/// How fast two oscillators drift through each other at each phase between them, cents beside their detune: the right side of
/// Adler's equation (Proc. IRE 34 (1946) 351) for waves and responses of any shape.
/// </summary>
internal sealed class LockCurve
{
    private readonly Complex[] sum;
    private readonly int cells;

    private readonly (int Response, int Brought) harmonics;

    /// <summary>With nothing coupled yet.</summary>
    /// <param name="response">Periods of the other in the time of <paramref name="brought"/> periods of the one: what meets is
    /// every harmonic of the response with that number...</param>
    /// <param name="brought">...and the brought one's with this.</param>
    public LockCurve(int cells, int response = 1, int brought = 1)
    {
        this.cells = cells;
        harmonics = (response, brought);
        sum = new Complex[cells];
    }

    /// <summary>Adds how the period of one answers through one net to what another brings there: Σ response(θ)·brought(θ + ψ) at
    /// unison. Where the one makes m periods while the other makes n, harmonic n·j of the response meets harmonic m·j of what
    /// is brought; all else has no mean.</summary>
    public void Add(double[] response, double[] brought)
    {
        Complex[] both = new Complex[cells];
        for (int i = 0; i < cells; i++)
            both[i] = new(response[i], brought[i]);
        Fourier.Forward(both, FourierOptions.NoScaling);
        int most = cells / 2 / Math.Max(harmonics.Response, harmonics.Brought);
        for (int k = 0; k < cells; k++)
        {
            int harmonic = k <= cells / 2 ? k : k - cells;
            if (Math.Abs(harmonic) <= most)
                sum[k] += Rounded(harmonic, most) * Complex.Conjugate(OfResponse(Place(harmonic * harmonics.Response))) * OfBrought(Place(harmonic * harmonics.Brought));
        }

        int Place(int harmonic) => (harmonic + cells) % cells;
        Complex Mirrored(int k) => Complex.Conjugate(both[k == 0 ? 0 : cells - k]);
        Complex OfResponse(int k) => 0.5 * (both[k] + Mirrored(k));
        Complex OfBrought(int k) => new Complex(0, -0.5) * (both[k] - Mirrored(k));
    }

    /// <summary>At most so far what one such sum brings to the share swings, by Hölder's inequality: Σ|response − its mean| times
    /// the largest departure of what is brought from its mean.</summary>
    public static double Reach(double[] response, double[] brought)
    {
        double of = response.Average(), at = brought.Average(), sum = 0, most = 0;
        for (int i = 0; i < response.Length; i++)
        {
            sum += Math.Abs(response[i] - of);
            most = Math.Max(most, Math.Abs(brought[i] - at));
        }
        return 2 * sum * most;
    }

    /// <summary>Adds what such a sum is at all phases alike, without what hangs on the phase.</summary>
    public void AddMean(double[] response, double[] brought) => sum[0] += response.Sum() * brought.Sum();

    // Away from unison the series ends where one of the two does: Lanczos' factors keep a jump from overshooting there.
    private double Rounded(int harmonic, int most)
    {
        if (harmonics == (1, 1) || harmonic == 0)
            return 1;
        double x = Math.PI * harmonic / (most + 1);
        return Math.Sin(x) / x;
    }

    /// <summary>By the phase of the other ahead of the one, ψ = m·θ of the other − n·θ of the one: the share by which the one's period grows.</summary>
    public double[] Shares()
    {
        Complex[] back = (Complex[])sum.Clone();
        Fourier.Inverse(back, FourierOptions.NoScaling);
        return [.. back.Select(value => value.Real / cells)];
    }

    /// <summary>The same in cents of pitch.</summary>
    public double[] Cents() => [.. Shares().Select(share => -Quantities.Cents.PerNeper * Math.Log(1 + share))];
}
