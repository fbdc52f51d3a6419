using System.Runtime.CompilerServices;

namespace Consort.Engine.Circuit.Parts;

/// <summary>
/// Channel of a field-effect transistor, Shichman and Hodges, IEEE JSSC SC-3 (1968) 285: B·(2·vov·vds − vds²)·(1 + λ·vds)
/// up to vds = vov, B·vov²·(1 + λ·vds) past it, nothing for vov below zero; vds is not negative.
/// </summary>
internal static class ChannelLaw
{
    /// <summary>Width over which a leakage current reverses with its voltage, V: two thermal voltages.</summary>
    public const double LeakWidth = 0.05;

    /// <summary>Channel current, A, and its slopes, S.</summary>
    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    public static double Current(
        double beta,
        double lambda,
        double overdrive,
        double vds,
        out double byGate,
        out double byDrain
    )
    {
        if (overdrive <= 0)
        {
            byGate = byDrain = 0;
            return 0;
        }
        double longer = 1 + lambda * vds;
        double reach = Math.Min(vds, overdrive);
        double core = beta * reach * (2 * overdrive - reach);
        byGate = 2 * beta * reach * longer;
        byDrain = 2 * beta * (overdrive - reach) * longer + core * lambda;
        return core * longer;
    }

    /// <summary>Density of the channel's thermal noise current, A²/Hz: 4kT·gd0·(2/3)·(1 + η + η²)/(1 + η), with η = 1 at
    /// vds = 0 and 0 in saturation (van der Ziel, Proc. IRE 50 (1962) 1808; Tsividis, Operation and Modeling of the MOS
    /// Transistor; both from memory).</summary>
    public static double Noise(double beta, double overdrive, double vds, double kelvin)
    {
        if (overdrive <= 0)
            return 0;
        double eta = 1 - Math.Min(vds / overdrive, 1);
        return 4 * Constants.Boltzmann * kelvin * 2 * beta * overdrive * (2.0 / 3) * (1 + eta + eta * eta) / (1 + eta);
    }
}
