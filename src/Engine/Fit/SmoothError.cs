using Consort.Engine.Bench.Tones;

namespace Consort.Engine.Fit;

/// <summary>An error over the keyboard that no part explains, but that does not jump from note to note: normal, with a
/// correlation of exp(−Δ²/(2·2²)) between notes Δ octaves apart.</summary>
internal static class SmoothError
{
    /// <summary>Its least deviation, cents.</summary>
    public const double Least = 0.05;

    private const double Octaves = 2;
    private const double Ridge = 1e-6; // keeps the factor real

    /// <summary>Lower factor of its correlation.</summary>
    public static double[][] Factor(IReadOnlyList<double> volts, double voltsPerOctave)
    {
        double[][] rows = [.. volts.Select((v, i) => volts.Take(i + 1).Select((w, j) => Alike((v - w) / voltsPerOctave) + (i == j ? Ridge : 0)).ToArray())];
        _ = CholeskyFactor.Of(rows) ?? throw new InvalidOperationException("two notes of a model are one");
        return rows;
    }

    private static double Alike(double octaves) => Math.Exp(-0.5 * octaves * octaves / (Octaves * Octaves));
}
