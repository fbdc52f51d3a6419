namespace Consort.Engine.Scope;

/// <summary>Steps of 1, 2, 5 and their decades.</summary>
internal static class Divisions
{
    /// <summary>The smallest step that is no less than a value.</summary>
    public static double AtLeast(double value)
    {
        if (!(value > 0))
            return 1;
        double power = Math.Pow(10, Math.Floor(Math.Log10(value)));
        foreach (double lead in (double[])[1, 2, 5, 10])
            if (lead * power >= value * (1 - 1e-9))
                return Round(lead, power);
        return Round(10, power);
    }

    // 2 × 10^-6 as the decimal is read, without the product's rounding.
    private static double Round(double lead, double power) =>
        double.Parse($"{lead}e{(int)Math.Round(Math.Log10(power))}", System.Globalization.CultureInfo.InvariantCulture);
}
