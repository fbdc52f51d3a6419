using Consort.Engine.Circuit;
using Consort.Engine.Circuit.Motion;

namespace Consort.Engine.Pitch.Locking;

/// <summary>A run that goes on closely where one at the accuracy for pitch has forgotten how it began.</summary>
/// <param name="Run">It, begun between two crossings: nothing crosses where it takes over.</param>
/// <param name="Crossing">Its last crossing before that, s.</param>
/// <param name="Events">When anything crossed its limit in the period that ended there, s from the period's start; the last is that end.</param>
internal sealed record RunIn(Transient Run, double Crossing, IReadOnlyList<double> Events)
{
    private const int Settling = 2; // crossings, and then this share of a period
    private const double Loose = 0.75;

    /// <summary>The last period before that, s.</summary>
    public double Period => Events[^1];

    /// <summary>Runs in from a state.</summary>
    /// <param name="begin">A run of some accuracy, with the oscillator's probe.</param>
    /// <param name="closely">How closely it is to go on.</param>
    /// <param name="x">The state.</param>
    /// <param name="own">The oscillator's name, and the net at which its period is counted.</param>
    /// <param name="end">When it gives up, s.</param>
    public static (RunIn? In, SolveFailure? Failure) Of(Func<Accuracy, Transient> begin, Accuracy closely, double[] x, (string Name, string Net) own, double end)
    {
        Transient coarse = begin(Accuracy.Pitch);
        coarse.Start(x);
        List<double> fired = [];
        coarse.Fired = fired.Add;
        if (Cross(coarse, Settling, own, end) is { } lost)
            return (null, lost);
        (double from, double to) = (coarse.Crossings[^2].Time, coarse.Crossings[^1].Time);
        double[] events = [.. fired.Where(moment => moment > from && moment < to).Select(moment => moment - from), to - from];
        if (coarse.RunTo(to + Loose * (to - from)) is { } fallen)
            return (null, fallen);
        Transient run = begin(closely);
        run.Start(coarse.X, coarse.Time);
        return (new(run, to, events), null);
    }

    /// <summary>Goes on until there are so many crossings since a run's start.</summary>
    public static SolveFailure? Cross(Transient run, int crossings, (string Name, string Net) own, double end)
    {
        while (run.Crossings.Count < crossings && run.Time < end)
            if (run.Step(end) is { } failed)
                return failed;
        return run.Crossings.Count < crossings ? new($"{own.Name} does not oscillate", own.Net, run.Time, 0) : null;
    }
}
