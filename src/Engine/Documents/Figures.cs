using System.Globalization;
using Consort.Engine.Circuit;
using Consort.Engine.Quantities;

namespace Consort.Engine.Documents;

/// <summary>How figures are written for people: few digits, a unit, a sign where the side matters.</summary>
public static class Figures
{
    private const double CelsiusZero = 273.15;
    private static readonly string[] Prefixes = ["f", "p", "n", "µ", "m", "", "k", "M", "G"];

    /// <summary>An error in cents with its sign, without the unit: <c>+0.12</c>, <c>-3.4</c>, <c>+12</c>.</summary>
    public static string SignedCents(double cents)
    {
        if (double.IsNaN(cents))
            return "none";
        if (double.IsInfinity(cents))
            return cents > 0 ? "+inf" : "-inf";
        double size = Math.Abs(cents);
        string text =
            size < 9.995 ? cents.ToString("+0.00;-0.00;0.00")
            : size < 99.95 ? cents.ToString("+0.0;-0.0;0.0")
            : cents.ToString("+0;-0;0");
        return text.AsSpan(1).ContainsAnyExcept('0', '.') ? text : text.TrimStart('+', '-');
    }

    /// <summary>The same on a page, which has the typographic minus (U+2212) that a terminal may lack.</summary>
    public static string PageCents(double cents) => SignedCents(cents).Replace('-', '−');

    /// <summary>A signed figure that may be small: two digits where two places would not show it.</summary>
    public static string SignedFine(double value) =>
        Math.Abs(value) is >= 1e-7 and < 0.01 ? $"{(value > 0 ? "+" : "-")}{QuantityText.Digits(Math.Abs(value), 2)}" : SignedCents(value);

    /// <summary>A claim's figure: three or so digits, trailing zeros dropped only from whole counts.</summary>
    public static string Plain(double value)
    {
        double size = Math.Abs(value);
        return double.IsNaN(value) ? "none"
            : double.IsInfinity(value) ? (value > 0 ? "no bound" : "-no bound")
            : value == Math.Round(value) && size < 1e6 ? value.ToString("0")
            : size >= 100 && size < 1e6 ? value.ToString("0")
            : size >= 10 && size < 100 ? value.ToString("0.0")
            : size >= 0.01 && size < 10 ? value.ToString("0.00")
            : size >= 1e-4 && size < 0.01 ? value.ToString("G2")
            : value.ToString("0.0e0");
    }

    /// <summary>A figure with its unit: <c>2.1 cents</c>, <c>7 followers</c>, <c>1 follower</c>.</summary>
    public static string WithUnit(double value, string unit)
    {
        bool isOne = value == 1 && unit.EndsWith('s') && unit.Length > 1;
        string single = unit.EndsWith("sses", StringComparison.Ordinal) ? unit[..^2] : unit[..^Math.Min(1, unit.Length)];
        return unit.Length == 0 || double.IsNaN(value) ? Plain(value) : $"{Plain(value)} {(isOne ? single : unit)}";
    }

    /// <summary>A value in SI units with a prefix: <c>4.7 kΩ</c>, <c>50 µV</c>, <c>0.3 Ω</c>. A value without unit is
    /// written plain, in ppm below 0.001; a share per kelvin in ppm/K.</summary>
    public static string Si(double value, string unit)
    {
        if (unit.Length == 0 && value != 0 && Math.Abs(value) < 1e-3)
            return $"{Digits(1e6 * value)} ppm";
        if (value == 0)
            value = 0; // no minus before a zero
        if (unit.Length == 0 || value == 0 || !double.IsFinite(value))
            return $"{Digits(value)} {unit}".TrimEnd();
        if (unit == "1/K")
            return $"{Digits(1e6 * value)} ppm/K";
        if (unit is "K" or "ppm/K" or "cents" or "%" or "A/V²" or "√V" or "1/V" or "eV")
            return $"{Digits(value)} {unit}";
        int group = (int)Math.Floor(Math.Log10(Math.Abs(value)) / 3 + 1e-12);
        group = Math.Clamp(group, -5, 3);
        return $"{Digits(value / Math.Pow(10, 3 * group))} {Prefixes[group + 5]}{unit}";
    }

    /// <summary>A temperature in kelvin, written in °C.</summary>
    public static string Celsius(double kelvin) => $"{kelvin - CelsiusZero:0.##} °C";

    /// <summary>A frequency in Hz with four digits, without the unit: <c>65.41</c>, <c>1047</c>, <c>12544</c>.</summary>
    public static string Hertz(double hertz) =>
        double.IsNaN(hertz) ? "none"
        : hertz < 10 ? hertz.ToString("0.000")
        : hertz < 100 ? hertz.ToString("0.00")
        : hertz < 1000 ? hertz.ToString("0.0")
        : hertz.ToString("0");

    /// <summary>True at 25 °C, where parts have their stated values.</summary>
    public static bool IsReference(double kelvin) => Math.Abs(kelvin - Constants.ReferenceTemperature) < 0.01;

    private static string Digits(double value)
    {
        if (double.IsInfinity(value))
            return value > 0 ? "infinite" : "-infinite";
        double size = Math.Abs(value);
        return size is not 0 and (< 1e-3 or >= 1e6) ? value.ToString("0.###e0") : value.ToString("G4");
    }

    /// <summary>A size in cents without its unit; in words where there is no pitch.</summary>
    public static string CentsOrNone(double cents) =>
        double.IsFinite(cents) ? cents.ToString(Math.Abs(cents) < 100 ? "0.00" : "0", CultureInfo.InvariantCulture) : "no pitch";
}
