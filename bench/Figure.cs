using System.Globalization;

namespace Consort.Bench;

/// <summary>Durations and errors as the tables print them: three digits, and the unit that fits.</summary>
internal static class Figure
{
    private static readonly (double Least, double Factor, string Unit)[] Durations =
        [(1, 1, "s"), (1e-3, 1e3, "ms"), (1e-6, 1e6, "µs"), (0, 1e9, "ns")];

    /// <summary>A duration in seconds.</summary>
    public static string Time(double seconds)
    {
        (_, double factor, string unit) = Durations.First(duration => seconds >= duration.Least || duration.Least == 0);
        return $"{Digits(seconds * factor)} {unit}";
    }

    /// <summary>An error in cents; a plain zero is never printed for what is only small.</summary>
    public static string Cents(double cents) =>
        double.IsNaN(cents) ? "none" : Math.Abs(cents) < 1e-4 ? cents.ToString("E0", Culture) : cents.ToString("0.0000", Culture);

    /// <summary>Three digits.</summary>
    public static string Digits(double value) =>
        Math.Abs(value) switch
        {
            >= 100 => value.ToString("F0", Culture),
            >= 10 => value.ToString("F1", Culture),
            _ => value.ToString("F2", Culture),
        };

    /// <summary>A tolerance.</summary>
    public static string Tolerance(double value) => value.ToString("0.#E0", Culture);

    private static CultureInfo Culture => CultureInfo.InvariantCulture;
}
