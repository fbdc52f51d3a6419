using Consort.Engine.Circuit.Motion;

namespace Consort.Engine.Pitch.Locking;

/// <summary>
/// Keeps steps short where a phase response is to be read: a step's weight is spread over it, and what a short memory makes
/// of the moments before an event would be smeared by a long one. Towards each event that the period before had, steps get
/// shorter and shorter.
/// </summary>
internal sealed class StepLimit(double ideal)
{
    private const double StepsPerPeriod = 400;
    private const double Share = 0.25; // of the way to the next event
    private const double Shortest = 20e-9; // s: a tenth of what the fastest parts of an oscillator take

    private readonly List<double> events = []; // of the last whole period, as moments of the next
    private int periods;

    /// <summary>The longest step from where a run stands, s.</summary>
    public double Longest(Transient run)
    {
        if (run.Crossings.Count > Math.Max(1, periods))
            Foretell(run);
        double longest = ideal / StepsPerPeriod;
        foreach (double moment in events)
            if (moment > run.Time)
                longest = Math.Min(longest, Math.Max(Shortest, Share * (moment - run.Time)));
        return longest;
    }

    private void Foretell(Transient run)
    {
        periods = run.Crossings.Count;
        (double from, double to) = (run.Crossings[^2].Time, run.Crossings[^1].Time);
        events.Clear();
        for (int i = run.Tape!.Steps.Count - 1; i >= 0 && run.Tape.Steps[i].End > from; i--)
            if (run.Tape.Steps[i].Watch >= 0)
                events.Add(run.Tape.Steps[i].End + to - from);
    }
}
