using System.Collections.Immutable;
using System.Globalization;

namespace Consort.Engine.Quantities;

/// <summary>
/// The series of preferred values of IEC 60063: E3 to E192. E3 to E24 are a table, since the standard's 27 30 33 36 39 43
/// 47 82 are not what rounding 10^(i/24) gives. E48 to E192 are 10^(i/n) rounded to three digits, with one exception:
/// E192 has 920 where rounding gives 919.
/// </summary>
public sealed class Series
{
    private static readonly int[] TwoDigits =
        [10, 11, 12, 13, 15, 16, 18, 20, 22, 24, 27, 30, 33, 36, 39, 43, 47, 51, 56, 62, 68, 75, 82, 91];

    private Series(int perDecade)
    {
        PerDecade = perDecade;
        Mantissas = perDecade <= 24
            ? [.. Enumerable.Range(0, perDecade).Select(i => TwoDigits[i * (24 / perDecade)] * 10)]
            : [.. Enumerable.Range(0, perDecade).Select(i => Rounded(i, perDecade))];
    }

    /// <summary>All series, coarsest first.</summary>
    public static ImmutableArray<Series> All { get; } = [.. new[] { 3, 6, 12, 24, 48, 96, 192 }.Select(n => new Series(n))];

    /// <summary>Values in a decade.</summary>
    public int PerDecade { get; }

    /// <summary>E and the number of values in a decade.</summary>
    public string Name => $"E{PerDecade}";

    /// <summary>The decade from 100 to 1000 (exclusive): two-digit series have a zero at the end.</summary>
    public ImmutableArray<int> Mantissas { get; }

    /// <summary>The series of that name (<c>E96</c>), or null.</summary>
    public static Series? Find(string name) => All.FirstOrDefault(series => series.Name == name);

    /// <summary>The value of the series nearest to a positive value by ratio; of two equally near, the lower.</summary>
    public double Nearest(double value)
    {
        ArgumentOutOfRangeException.ThrowIfNegativeOrZero(value);
        int decade = (int)Math.Floor(Math.Log10(value)) - 2;
        double mantissa = value / Math.Pow(10, decade);
        int above = Mantissas.Count(m => m < mantissa);
        double best = double.NaN;
        double least = double.PositiveInfinity;
        for (int i = above - 1; i <= above + 1; i++) // one more than needed: at a decade's end the logarithm may round either way
        {
            int round = (int)Math.Floor((double)i / PerDecade);
            double candidate = At(Mantissas[i - round * PerDecade], decade + round);
            double distance = Math.Abs(Math.Log(candidate / value));
            if (distance < least)
                (best, least) = (candidate, distance);
        }
        return best;
    }

    /// <summary>True when the value is one of the series, to a part in a million.</summary>
    public bool Holds(double value) => value > 0 && Math.Abs((Nearest(value) / value) - 1) < 1e-6;

    // Parsed, not multiplied: the double nearest to the decimal value.
    private static double At(int mantissa, int exponent) =>
        double.Parse($"{mantissa}e{exponent}", NumberStyles.Float, CultureInfo.InvariantCulture);

    private static int Rounded(int i, int perDecade) =>
        perDecade == 192 && i == 185 ? 920 : (int)Math.Round(100 * Math.Pow(10, (double)i / perDecade));
}
