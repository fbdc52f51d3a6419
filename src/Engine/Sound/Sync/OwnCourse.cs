using Consort.Engine.Quantities;
using Consort.Engine.Sound.Laws;

namespace Consort.Engine.Sound.Sync;

/// <summary>One channel of an oscillator that is left alone, over its period from one counted crossing to the next.</summary>
internal sealed class OwnCourse
{
    private const double Fine = 1e-4; // turns
    private const double Span = 0.01;
    private const double Near = 2e-3; // of the height
    private const double Aside = 1.5e-3; // turns: a shape keeps its corners to a hundredth of the height

    private readonly double[] times;
    private readonly double[] volts;

    /// <summary>Of a steady period.</summary>
    public OwnCourse(SteadyPeriod period, int channel)
    {
        (times, volts) = (period.Times, period.Volts[channel]);
        Height = volts.Max() - volts.Min();
    }

    /// <summary>s.</summary>
    public double Period => times[^1] - times[0];

    /// <summary>From lowest to highest, V.</summary>
    public double Height { get; }

    /// <summary>Its voltage so long after a crossing, s; before it when negative.</summary>
    public double At(double after)
    {
        double at = times[0] + Turns.Part(after / Period) * Period;
        int i = Array.BinarySearch(times, at);
        i = Math.Clamp(i >= 0 ? i : ~i - 1, 0, times.Length - 2);
        double length = times[i + 1] - times[i];
        return length > 0 ? volts[i] + (volts[i + 1] - volts[i]) * (at - times[i]) / length : volts[i];
    }

    /// <summary>The phase, not before another, from which on it is on the straight line that it takes at a third and after it.</summary>
    public double LineFrom(double first, double there)
    {
        double slope = (At((there + Span) * Period) - At(there * Period)) / Span, start = At(there * Period);
        double phase = there;
        while (phase - Fine > first && Math.Abs(At((phase - Fine) * Period) - start - slope * (phase - Fine - there)) < Near * Height)
            phase -= Fine;
        return phase + Aside;
    }
}
