namespace Consort.Engine.Scope;

/// <summary>
/// The levels between which a wave moves, after IEEE Std 181 (2011, 5.2; from memory): for a wave that rests at two states
/// the modes of the histograms of its upper and lower halves, for any other its highest and lowest value.
/// </summary>
/// <param name="Lowest">V.</param>
/// <param name="Highest">V.</param>
/// <param name="Low">Low state, V.</param>
/// <param name="High">High state, V.</param>
/// <param name="HasStates">True when it rests at two states.</param>
public sealed record WaveLevels(double Lowest, double Highest, double Low, double High, bool HasStates)
{
    private const int Bins = 200;

    // A state is where a wave spends this share of its half's time within one bin: a saw spends 1 % there, a triangle too, a
    // sine 9 %, a pulse nearly all.
    private const double Rests = 0.3;

    /// <summary>From low to high state, V.</summary>
    public double Amplitude => High - Low;

    /// <summary>The level at a share of the way from low to high, V.</summary>
    public double At(double share) => Low + share * Amplitude;

    /// <summary>Reads a wave given by points that straight lines join.</summary>
    public static WaveLevels Of(ReadOnlySpan<double> times, ReadOnlySpan<double> volts)
    {
        (double lowest, double highest) = (double.PositiveInfinity, double.NegativeInfinity);
        foreach (double v in volts)
            (lowest, highest) = (Math.Min(lowest, v), Math.Max(highest, v));
        if (!(highest > lowest))
            return new(lowest, highest, lowest, highest, false);
        double[] histogram = Histogram(times, volts, lowest, highest);
        (int low, bool restsLow) = Mode(histogram, 0, Bins / 2);
        (int high, bool restsHigh) = Mode(histogram, Bins / 2, Bins);
        if (!restsLow || !restsHigh)
            return new(lowest, highest, lowest, highest, false);
        return new(lowest, highest, MeanWithin(times, volts, lowest, highest, low), MeanWithin(times, volts, lowest, highest, high), true);
    }

    private static (int Bin, bool Rests) Mode(double[] histogram, int from, int to)
    {
        (int most, double total) = (from, 0);
        for (int i = from; i < to; i++)
        {
            total += histogram[i];
            if (histogram[i] > histogram[most])
                most = i;
        }
        return (most, total > 0 && Around(histogram, most, from, to) > Rests * total);
    }

    private static double Around(double[] histogram, int bin, int from, int to)
    {
        double sum = 0;
        for (int i = Math.Max(from, bin - 1); i <= Math.Min(to - 1, bin + 1); i++)
            sum += histogram[i];
        return sum;
    }

    // Time spent in each bin: a straight piece spends its time evenly over what it crosses.
    private static double[] Histogram(ReadOnlySpan<double> times, ReadOnlySpan<double> volts, double lowest, double highest)
    {
        double[] histogram = new double[Bins];
        double scale = Bins / (highest - lowest);
        for (int i = 1; i < times.Length; i++)
        {
            double a = (Math.Min(volts[i - 1], volts[i]) - lowest) * scale;
            double b = (Math.Max(volts[i - 1], volts[i]) - lowest) * scale;
            int first = Math.Clamp((int)a, 0, Bins - 1);
            int last = Math.Clamp((int)b, 0, Bins - 1);
            double length = times[i] - times[i - 1];
            for (int bin = first; bin <= last; bin++)
                histogram[bin] += first == last ? length : length * (Math.Min(b, bin + 1) - Math.Max(a, bin)) / (b - a);
        }
        return histogram;
    }

    private static double MeanWithin(ReadOnlySpan<double> times, ReadOnlySpan<double> volts, double lowest, double highest, int bin)
    {
        double width = (highest - lowest) / Bins;
        (double from, double to) = (lowest + (bin - 1) * width, lowest + (bin + 2) * width);
        (double sum, double weight) = (0, 0);
        for (int i = 1; i < times.Length; i++)
        {
            double middle = 0.5 * (volts[i - 1] + volts[i]);
            if (middle < from || middle > to)
                continue;
            sum += middle * (times[i] - times[i - 1]);
            weight += times[i] - times[i - 1];
        }
        return weight > 0 ? sum / weight : 0.5 * (from + to);
    }
}
