using Consort.Engine.Scope;
using Consort.Engine.Sound.Oscillators;

namespace Consort.Engine.Sound.Laws;

/// <summary>Reads where the edges of a pulse stand in one period, at half of its height.</summary>
public static class PulseReader
{
    /// <summary>The edges; null when the wave is neither a pulse with one rise and one fall nor still.</summary>
    /// <param name="low">Low state when the pulse stands still, V; NaN when it is not known.</param>
    /// <param name="high">High state.</param>
    public static PulseEdges? Read(ReadOnlySpan<double> times, ReadOnlySpan<double> volts, double low = double.NaN, double high = double.NaN)
    {
        WaveLevels levels = WaveLevels.Of(times, volts);
        if (double.IsFinite(low) && levels.Highest - levels.Lowest < 0.5 * (high - low))
            return new(0, 0, low, high, levels.Lowest + levels.Highest > low + high ? high : low);
        if (!levels.HasStates)
            return null;
        double middle = levels.At(0.5);
        (double rise, double fall, int rises, int falls) = (0, 0, 0, 0);
        double period = times[^1] - times[0];
        for (int i = 1; i < times.Length; i++)
        {
            if (volts[i - 1] < middle == volts[i] < middle)
                continue;
            double at = (times[i - 1] - times[0] + (times[i] - times[i - 1]) * (middle - volts[i - 1]) / (volts[i] - volts[i - 1])) / period;
            if (volts[i] >= middle)
                (rise, rises) = (at, rises + 1);
            else
                (fall, falls) = (at, falls + 1);
        }
        return rises == 1 && falls == 1 ? new(rise, fall, levels.Low, levels.High) : null;
    }
}
