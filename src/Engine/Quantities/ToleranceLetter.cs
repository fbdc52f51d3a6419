namespace Consort.Engine.Quantities;

/// <summary>Tolerance letters of IEC 60062, as printed after a value: 4K7F is 4.7 kΩ within 1 %.</summary>
public static class ToleranceLetter
{
    /// <summary>The half-width that a letter stands for, relative; null when it stands for none.</summary>
    public static double? Read(char letter) =>
        letter switch
        {
            'E' => 0.00005,
            'L' => 0.0001,
            'P' => 0.0002,
            'W' => 0.0005,
            'B' => 0.001,
            'C' => 0.0025,
            'D' => 0.005,
            'F' => 0.01,
            'G' => 0.02,
            'H' => 0.03,
            'J' => 0.05,
            'K' => 0.1,
            'M' => 0.2,
            'N' => 0.3,
            _ => null,
        };
}
