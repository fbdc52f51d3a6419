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

    /// <summary>With nothing coupled yet.</summary>
    public LockCurve(int cells)
    {
        this.cells = cells;
        sum = new Complex[cells];
    }

    /// <summary>Adds how the period of one answers through one net to what another brings there: Σ response(θ)·brought(θ + ψ).</summary>
    public void Add(double[] response, double[] brought)
    {
        Complex[] both = new Complex[cells];
        for (int i = 0; i < cells; i++)
            both[i] = new(response[i], brought[i]);
        Fourier.Forward(both, FourierOptions.NoScaling);
        for (int k = 0; k < cells; k++)
        {
            Complex mirrored = Complex.Conjugate(both[k == 0 ? 0 : cells - k]);
            Complex ofResponse = 0.5 * (both[k] + mirrored);
            Complex ofBrought = new Complex(0, -0.5) * (both[k] - mirrored);
            sum[k] += Complex.Conjugate(ofResponse) * ofBrought;
        }
    }

    /// <summary>By the phase of the other ahead of the one, ψ: the share by which the one's period grows.</summary>
    public double[] Shares()
    {
        Complex[] back = (Complex[])sum.Clone();
        Fourier.Inverse(back, FourierOptions.NoScaling);
        return [.. back.Select(value => value.Real / cells)];
    }

    /// <summary>The same in cents of pitch.</summary>
    public double[] Cents() => [.. Shares().Select(share => -Quantities.Cents.PerNeper * Math.Log(1 + share))];
}
