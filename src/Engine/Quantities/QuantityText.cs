using System.Globalization;

namespace Consort.Engine.Quantities;

/// <summary>Writes values back as the trade does: <c>4.7k</c>, <c>12 V</c>, <c>-3.2 cents</c>. What is written can be
/// read again, to the digits asked.</summary>
public static class QuantityText
{
    private static readonly (double Above, string Letter)[] Steps =
    [
        (1e12, "T"), (1e9, "G"), (1e6, "M"), (1e3, "k"), (1, ""), (1e-3, "m"), (1e-6, "µ"), (1e-9, "n"), (1e-12, "p"), (1e-15, "f"),
    ];

    /// <summary>The value with a fitting multiplier and its unit.</summary>
    /// <param name="value">In SI units.</param>
    /// <param name="dimension">What it measures.</param>
    /// <param name="digits">Significant digits, 1 to 15.</param>
    public static string Write(double value, Dimension dimension, int digits = 4)
    {
        if (double.IsNaN(value))
            return "not given";
        if (double.IsInfinity(value))
            return value > 0 ? "infinite" : "-infinite";
        return dimension switch
        {
            Dimension.Resistance => Resistance(value, digits),
            Dimension.Ratio => Ratio(value, digits),
            Dimension.Money => value.ToString("0.00", CultureInfo.InvariantCulture),
            Dimension.Temperature => $"{Digits(value - 273.15, digits)} °C",
            Dimension.PerKelvin => $"{Digits(value * 1e6, digits)} ppm/K",
            Dimension.Slew => $"{Digits(value * 1e-6, digits)} V/µs",
            Dimension.Interval => $"{Digits(value, digits)} {(Math.Abs(value) == 1 ? "cent" : "cents")}",
            Dimension.Length => value != 0 && Math.Abs(value) < 1 ? $"{Digits(value * 1e3, digits)} mm" : $"{Digits(value, digits)} m",
            Dimension.PanelWidth => $"{Digits(value / 5.08e-3, digits)} HP",
            Dimension.PanelHeight => $"{Digits(value / 44.45e-3, digits)} U",
            Dimension.RootVoltage => $"{Digits(value, digits)} √V",
            Dimension.PerVolt => $"{Digits(value, digits)} /V",
            Dimension.BandGap => $"{Digits(value, digits)} eV",
            _ => WithPrefix(value, Unit(dimension), digits),
        };
    }

    /// <summary>A number with so many significant digits, without a needless exponent or trailing zeros.</summary>
    public static string Digits(double value, int digits)
    {
        if (value == 0)
            return "0";
        string text = value.ToString($"G{digits}", CultureInfo.InvariantCulture);
        return text.Contains('E', StringComparison.Ordinal) && Math.Abs(value) is < 1e7 and >= 1e-4
            ? decimal.Parse(text, NumberStyles.Float, CultureInfo.InvariantCulture).ToString(CultureInfo.InvariantCulture)
            : text;
    }

    private static string Resistance(double value, int digits)
    {
        double size = Math.Abs(value);
        return value == 0 || size < 0.1 ? WithPrefix(value, "Ω", digits)
            : size < 1000 && double.Parse(Digits(size, digits), CultureInfo.InvariantCulture) < 1000 ? $"{Digits(value, digits)}R"
            : WithPrefix(value, "", digits).Replace(" ", "");
    }

    private static string Ratio(double value, int digits) =>
        value == 0 || Math.Abs(value) >= 1 ? Digits(value, digits)
        : Math.Abs(value) >= 1e-4 ? $"{Digits(value * 100, digits)}%"
        : $"{Digits(value * 1e6, digits)} ppm";

    private static string WithPrefix(double value, string unit, int digits)
    {
        if (value == 0)
            return $"0 {unit}";
        double rounded = Math.Abs(double.Parse(Digits(value, digits), CultureInfo.InvariantCulture));
        (double above, string letter) = Steps[^1];
        foreach ((double limit, string prefix) in Steps)
            if (rounded >= limit * (1 - 1e-12))
            {
                (above, letter) = (limit, prefix);
                break;
            }
        return $"{Digits(value / above, digits)} {letter}{unit}";
    }

    private static string Unit(Dimension dimension) =>
        dimension switch
        {
            Dimension.Conductance => "S",
            Dimension.VoltagePerKelvin => "V/K",
            Dimension.VoltageNoise => "V/√Hz",
            Dimension.CurrentNoise => "A/√Hz",
            Dimension.CurrentPerSquareVolt => "A/V²",
            Dimension.ResistancePerLength => "Ω/m",
            Dimension.CapacitancePerLength => "F/m",
            Dimension.InductancePerLength => "H/m",
            Dimension.TemperatureStep => "K",
            Dimension.Charge => "C",
            _ => DimensionWords.Of(dimension).Unit,
        };
}
