namespace Consort.Engine.Documents;

/// <summary>One axis of a chart: its range, its title with unit, and where its ticks stand.</summary>
internal sealed record ChartAxis(double Low, double High, double Step, string Title)
{
    /// <summary>An axis that holds all values (those that are finite), zero included, with ticks at 1, 2 or 5 times a
    /// power of ten.</summary>
    public static ChartAxis Holding(IEnumerable<double> values, string title, double smallest = 0, int ticks = 6)
    {
        double low = -smallest, high = smallest;
        foreach (double value in values)
            if (double.IsFinite(value))
                (low, high) = (Math.Min(low, value), Math.Max(high, value));
        if (high == low)
            high = low + 1;
        double step = NiceStep((high - low) / ticks);
        return new(Math.Floor(low / step - 1e-9) * step, Math.Ceiling(high / step + 1e-9) * step, step, title);
    }

    /// <summary>An axis that ends where the values end, with ticks on whole multiples of a step of 1, 2 or 5.</summary>
    public static ChartAxis Exactly(double low, double high, string title, int ticks = 12) =>
        new(low, high > low ? high : low + 1, Math.Max(1, NiceStep((high - low) / ticks)), title);

    /// <summary>Ticks from low to high.</summary>
    public IEnumerable<double> Ticks()
    {
        for (double k = Math.Ceiling(Low / Step - 1e-9); k * Step <= High + 1e-9 * Step; k++)
            yield return k * Step;
    }

    /// <summary>Digits after the point that tell two ticks apart.</summary>
    public string Label(double tick)
    {
        int digits = Math.Max(0, (int)Math.Ceiling(-Math.Log10(Step) - 1e-9));
        double shown = Math.Abs(tick) < 1e-9 * Step ? 0 : tick; // no minus before a zero
        return shown.ToString("F" + digits).Replace('-', '−');
    }

    private static double NiceStep(double rough)
    {
        double power = Math.Pow(10, Math.Floor(Math.Log10(rough)));
        double lead = rough / power;
        return power * (lead <= 1 ? 1 : lead <= 2 ? 2 : lead <= 5 ? 5 : 10);
    }
}
