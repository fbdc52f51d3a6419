using MathNet.Numerics.LinearAlgebra;

namespace Consort.Engine.Pitch.Builds.Cores;

/// <summary>
/// Interpolates over the timing current between a few currents where something is known. The functions are those of which
/// charge laws are made: a constant (charge), I (times that pass without charging), I², 1/I (leakage and bias currents).
/// </summary>
internal sealed class CurrentWeights
{
    private readonly double unit;
    private readonly Matrix<double> inverse;

    /// <summary>Through one to four currents that differ, A.</summary>
    public CurrentWeights(double[] currents)
    {
        unit = Math.Exp(currents.Average(Math.Log));
        inverse = Matrix<double>.Build.DenseOfRows(currents.Select(current => Functions(current / unit, currents.Length).Select(f => f.Value))).Inverse();
        Count = currents.Length;
    }

    /// <summary>How many currents.</summary>
    public int Count { get; }

    /// <summary>The weights at a current.</summary>
    public double[] At(double current) => Combine(Functions(current / unit, Count).Select(f => f.Value));

    /// <summary>Their change for a relative change of current.</summary>
    public double[] SlopesAt(double current) => Combine(Functions(current / unit, Count).Select(f => f.Slope));

    private double[] Combine(IEnumerable<double> functions) => [.. inverse.LeftMultiply(Vector<double>.Build.DenseOfEnumerable(functions))];

    private static (double Value, double Slope)[] Functions(double s, int count) =>
        [.. (((double, double)[])[(1, 0), (s, s), (s * s, 2 * s * s), (1 / s, -1 / s)]).Take(count)];
}
