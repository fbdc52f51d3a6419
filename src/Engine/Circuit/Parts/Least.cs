namespace Consort.Engine.Circuit.Parts;

/// <summary>Smallest values that keep a division sound when a study sets a resistance to its ideal of zero.</summary>
internal static class Least
{
    /// <summary>0.1 mΩ: at 1 mA it drops 0.1 µV, a ten-thousandth of a cent; 1e4 S still leaves rounding of a current
    /// below 1e-11 A at 12 V.</summary>
    public const double Resistance = 1e-4;

    /// <summary>1/R, finite for every R ≥ 0; 0 for an infinite one.</summary>
    public static double Conductance(double resistance) => 1 / Math.Max(resistance, Resistance);
}
