using System.Collections.Immutable;
using Consort.Engine.Sound.Spectra;

namespace Consort.Engine.Scope;

/// <summary>
/// What is read off one trace, over all whole periods of the record. Levels, transition durations and duty after IEEE Std
/// 181 (2011; from memory): the middle is 50 % of the amplitude, transitions last from 10 % to 90 %.
/// </summary>
/// <param name="Levels">Levels.</param>
/// <param name="Mean">Direct part, V.</param>
/// <param name="Rms">Root mean square, direct part included, V.</param>
/// <param name="Periods">Whole periods read; 0 when it does not repeat within the record.</param>
/// <param name="Hertz">From rising middle to rising middle; NaN without a period.</param>
/// <param name="Unsteadiness">Largest share by which a period departs from their mean.</param>
/// <param name="Duty">Share of the time above the middle.</param>
/// <param name="RiseSeconds">Mean of all complete rising transitions; NaN when there is none.</param>
/// <param name="FallSeconds">The same for falling ones.</param>
/// <param name="Harmonics">Null without a period.</param>
public sealed record WaveReading(
    WaveLevels Levels,
    double Mean,
    double Rms,
    int Periods,
    double Hertz,
    double Unsteadiness,
    double Duty,
    double RiseSeconds,
    double FallSeconds,
    HarmonicReading? Harmonics
)
{
    /// <summary>Harmonics read, the fundamental included.</summary>
    public const int MostHarmonics = 20;

    // Less than this is rounding and what the supply's ripple leaves, V: a still net has no frequency.
    private const double Still = 1e-5;

    /// <summary>Peak to peak, V.</summary>
    public double PeakToPeak => Levels.Highest - Levels.Lowest;

    /// <summary>Reads a wave given by points that straight lines join.</summary>
    public static WaveReading Of(ReadOnlySpan<double> times, ReadOnlySpan<double> volts)
    {
        WaveLevels levels = WaveLevels.Of(times, volts);
        double[] starts = levels.Amplitude > Still ? [.. Rises(times, volts, levels)] : [];
        if (starts.Length < 2)
        {
            (double mean, double square) = Moments(times, volts);
            return new(levels, mean, Math.Sqrt(square), 0, double.NaN, 0, double.NaN, Transition(times, volts, levels, 1), Transition(times, volts, levels, -1), null);
        }
        int periods = starts.Length - 1;
        double period = (starts[^1] - starts[0]) / periods;
        (double[] t, double[] v) = Cut(times, volts, starts[0], starts[^1]);
        (double dc, double squares) = Moments(t, v);
        return new(
            levels,
            dc,
            Math.Sqrt(squares),
            periods,
            1 / period,
            Enumerable.Range(0, periods).Max(i => Math.Abs((starts[i + 1] - starts[i]) / period - 1)),
            Above(t, v, levels.At(0.5)) / (starts[^1] - starts[0]),
            Transition(times, volts, levels, 1),
            Transition(times, volts, levels, -1),
            HarmonicReading.OfPeriods(t, v, periods, MostHarmonics)
        );
    }

    /// <summary>Moments at which the wave rises through its middle, with a tenth of the amplitude either way to go first,
    /// so that what trembles about the middle counts once.</summary>
    private static List<double> Rises(ReadOnlySpan<double> times, ReadOnlySpan<double> volts, WaveLevels levels)
    {
        List<double> rises = [];
        (double low, double middle, double high) = (levels.At(0.4), levels.At(0.5), levels.At(0.6));
        bool armed = false;
        double candidate = double.NaN;
        for (int i = 1; i < times.Length; i++)
        {
            if (volts[i - 1] < low)
                armed = true;
            if (armed && volts[i - 1] < middle && volts[i] >= middle)
                candidate = Crossing(times, volts, i, middle);
            if (armed && volts[i] >= high)
            {
                rises.Add(candidate);
                armed = false;
            }
        }
        return rises;
    }

    private static double Crossing(ReadOnlySpan<double> times, ReadOnlySpan<double> volts, int i, double level) =>
        times[i - 1] + (times[i] - times[i - 1]) * (level - volts[i - 1]) / (volts[i] - volts[i - 1]);

    // From the last crossing of the near level to the first one of the far level; way 1 rising, -1 falling.
    private static double Transition(ReadOnlySpan<double> times, ReadOnlySpan<double> volts, WaveLevels levels, int way)
    {
        if (!(levels.Amplitude > Still))
            return double.NaN;
        double near = levels.At(way > 0 ? 0.1 : 0.9);
        double far = levels.At(way > 0 ? 0.9 : 0.1);
        (double left, double sum, int count) = (double.NaN, 0, 0);
        for (int i = 1; i < times.Length; i++)
        {
            if (way * (volts[i - 1] - near) < 0 && way * (volts[i] - near) >= 0)
                left = Crossing(times, volts, i, near);
            if (double.IsNaN(left) || way * (volts[i] - far) < 0)
                continue;
            sum += Crossing(times, volts, i, far) - left;
            count++;
            left = double.NaN;
        }
        return count > 0 ? sum / count : double.NaN;
    }

    private static (double Mean, double Square) Moments(ReadOnlySpan<double> times, ReadOnlySpan<double> volts)
    {
        (double sum, double squares) = (0, 0);
        for (int i = 1; i < times.Length; i++)
        {
            double length = times[i] - times[i - 1];
            (double a, double b) = (volts[i - 1], volts[i]);
            sum += length * 0.5 * (a + b);
            squares += length * (a * a + a * b + b * b) / 3; // of a straight line
        }
        double all = times[^1] - times[0];
        return all > 0 ? (sum / all, squares / all) : (volts[0], volts[0] * volts[0]);
    }

    private static double Above(ReadOnlySpan<double> times, ReadOnlySpan<double> volts, double level)
    {
        double sum = 0;
        for (int i = 1; i < times.Length; i++)
        {
            double length = times[i] - times[i - 1];
            double low = Math.Min(volts[i - 1], volts[i]);
            double high = Math.Max(volts[i - 1], volts[i]);
            sum += low >= level ? length : high <= level ? 0 : length * (high - level) / (high - low);
        }
        return sum;
    }

    private static (double[] Times, double[] Volts) Cut(ReadOnlySpan<double> times, ReadOnlySpan<double> volts, double from, double to)
    {
        List<double> t = [from], v = [At(times, volts, from)];
        for (int i = 0; i < times.Length; i++)
            if (times[i] > from && times[i] < to)
            {
                t.Add(times[i]);
                v.Add(volts[i]);
            }
        t.Add(to);
        v.Add(At(times, volts, to));
        return ([.. t], [.. v]);
    }

    private static double At(ReadOnlySpan<double> times, ReadOnlySpan<double> volts, double time)
    {
        int i = times.BinarySearch(time);
        if (i >= 0)
            return volts[i];
        i = Math.Clamp(~i, 1, times.Length - 1);
        return volts[i - 1] + (volts[i] - volts[i - 1]) * (time - times[i - 1]) / (times[i] - times[i - 1]);
    }
}
