using System.Runtime.CompilerServices;

namespace Consort.Engine.Circuit.Parts;

/// <summary>What an input passes on: itself inside its range, a thousandth of its movement outside. Both inputs of an
/// amplifier go through the same bend, so that a pair that agrees still agrees; what falls is the gain.</summary>
internal readonly struct InputRange(double belowPositive, double aboveNegative)
{
    private const double Width = 0.02;
    private const double Sure = 45 * Width;
    private const double Share = 0.999;

    /// <summary>The voltage that is passed on and its derivatives.</summary>
    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    public double Pass(
        double v,
        double positive,
        double negative,
        out double byV,
        out double byPositive,
        out double byNegative
    )
    {
        double high = positive - belowPositive;
        double low = negative + aboveNegative;
        byV = 1;
        byPositive = byNegative = 0;
        if (v < high - Sure && v > low + Sure)
            return v;
        double held = v - Share * Smooth.Positive(v - high, Width, out double over);
        double raised = held + Share * Smooth.Positive(low - held, Width, out double under);
        double kept = 1 - Share * under;
        byV = (1 - Share * over) * kept;
        byPositive = Share * over * kept;
        byNegative = Share * under;
        return raised;
    }
}
