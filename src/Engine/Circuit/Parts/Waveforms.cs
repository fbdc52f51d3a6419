namespace Consort.Engine.Circuit.Parts;

/// <summary>How independent sources move: a value, a trapezoid between 'before' and the value, a sinusoid on top.</summary>
internal sealed class Waveforms(PartBank bank)
{
    private const double LeastRise = 1e-15;
    private readonly double[] value = bank.Numbers("value");
    private readonly double[] before = bank.Numbers("before");
    private readonly double[] starts = bank.Numbers("starts");
    private readonly double[] rise = bank.Numbers("rise");
    private readonly double[] lasts = bank.Numbers("lasts");
    private readonly double[] every = bank.Numbers("every");
    private readonly double[] amplitude = bank.Numbers("amplitude");
    private readonly double[] frequency = bank.Numbers("frequency");
    private readonly double[] phase = bank.Numbers("phase");

    /// <summary>A source's value at a time.</summary>
    public double At(int i, double time)
    {
        double level = double.IsNaN(before[i]) ? value[i] : before[i] + (value[i] - before[i]) * Moved(i, time);
        return amplitude[i] == 0
            ? level
            : level + amplitude[i] * Math.Sin(2 * Math.PI * (frequency[i] * time + phase[i]));
    }

    /// <summary>True when any source does not stand still for all time.</summary>
    /// <param name="formulas">What is added to each by formula; null for none.</param>
    public bool Vary(FormulaTape?[] formulas)
    {
        for (int i = 0; i < bank.Count; i++)
            if (amplitude[i] != 0 || !double.IsNaN(before[i]) || formulas[i] is { HasTime: true })
                return true;
        return false;
    }

    /// <summary>The first corner of any source after a time; infinity when none steps.</summary>
    public double NextCorner(double after)
    {
        double next = double.PositiveInfinity;
        for (int i = 0; i < bank.Count; i++)
            next = Math.Min(next, NextCorner(i, after));
        return next;
    }

    private double NextCorner(int i, double after)
    {
        if (double.IsNaN(before[i]))
            return double.PositiveInfinity;
        if (double.IsPositiveInfinity(every[i]))
            return NextCorner(i, starts[i], after);
        double period = Math.Max(0, Math.Floor((after - starts[i]) / every[i]) - 1);
        double next = double.PositiveInfinity;
        for (int k = 0; k < 4; k++)
            next = Math.Min(next, NextCorner(i, starts[i] + (period + k) * every[i], after));
        return next;
    }

    private double NextCorner(int i, double start, double after)
    {
        double r = Math.Max(rise[i], LeastRise);
        double next = double.PositiveInfinity;
        foreach (double corner in (ReadOnlySpan<double>)[start, start + r, start + lasts[i], start + lasts[i] + r])
            if (corner > after && corner < next)
                next = corner;
        return next;
    }

    /// <summary>0 at 'before', 1 at the main value.</summary>
    private double Moved(int i, double time)
    {
        double since = time - starts[i];
        if (since > 0 && !double.IsPositiveInfinity(every[i]))
            since -= Math.Floor(since / every[i]) * every[i];
        double r = Math.Max(rise[i], LeastRise);
        return Math.Clamp(since / r, 0, 1) - Math.Clamp((since - lasts[i]) / r, 0, 1);
    }
}
