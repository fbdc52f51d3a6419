using Consort.Engine.Quantities;
using Consort.Engine.Sound.Oscillators;

namespace Consort.Engine.Sound.Sync;

/// <summary>Finds at which phase of the lead an oscillator leaves its own course, where it is counted.</summary>
/// <param name="own">What is counted, left alone.</param>
internal sealed class PullFinder(OwnCourse own)
{
    private const double Near = 0.01; // of the height
    private const double Moved = 5e-3; // turns: what is moved by less tells no moment

    /// <summary>The phase; NaN when it is not moved.</summary>
    /// <param name="led">Crossings of the lead.</param>
    /// <param name="counted">Of the oscillator, s.</param>
    /// <param name="trace">What is counted at the run's own steps.</param>
    public double Phase(IReadOnlyList<double> led, IReadOnlyList<double> counted, List<(double Time, double Volts)> trace)
    {
        List<double> phases = [];
        for (int i = 1; i + 1 < counted.Count; i++)
            if (Math.Abs(Turns.Short((counted[i + 1] - counted[i]) / own.Period)) > Moved && LeadPhase(led, Moment(counted[i], counted[i + 1], trace)) is { } phase)
                phases.Add(phase);
        return phases.Count == 0 ? double.NaN : Turns.Part(Turns.Middle(phases));
    }

    private static double? LeadPhase(IReadOnlyList<double> led, double moment)
    {
        for (int k = 1; k < led.Count; k++)
            if (led[k] > moment)
                return moment > led[k - 1] ? (moment - led[k - 1]) / (led[k] - led[k - 1]) : null;
        return null;
    }

    // Between the last step on the course from the crossing before and the first on that to the crossing after: where the
    // nearer one of the two changes.
    private double Moment(double before, double after, List<(double Time, double Volts)> trace)
    {
        (double Time, double Volts)[] steps = [.. trace.Where(step => step.Time >= before && step.Time <= after)];
        double[] left = [.. steps.Select(step => Math.Abs(step.Volts - own.At(step.Time - before)))];
        double[] right = [.. steps.Select(step => Math.Abs(step.Volts - own.At(step.Time - after)))];
        int last = Array.FindIndex(left, off => off > Near * own.Height) is var gone && gone < 0 ? steps.Length - 1 : Math.Max(0, gone - 1);
        int first = Array.FindLastIndex(right, off => off > Near * own.Height) + 1;
        if (first >= steps.Length)
            first = steps.Length - 1;
        if (first <= last)
            return 0.5 * (steps[first].Time + steps[last].Time);
        for (int i = last; i <= first; i++)
            if (right[i] < left[i])
                return steps[i].Time;
        return steps[first].Time;
    }
}
