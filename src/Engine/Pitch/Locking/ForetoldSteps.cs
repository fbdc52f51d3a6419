using Consort.Engine.Circuit.Motion;

namespace Consort.Engine.Pitch.Locking;

/// <summary>
/// Keeps steps short where a phase response is to be read, as <see cref="StepLimit"/> does, by the events of the run-in: the first
/// period that is taped can then be read. Towards each event steps get shorter and shorter; where one is late, they stay as
/// short as it is far from where it was expected.
/// </summary>
internal sealed class ForetoldSteps
{
    private const double StepsPerPeriod = 200;
    private const double Share = 0.1; // of the way to the next event
    private const double Shortest = 20e-9; // s: a tenth of what the fastest parts of an oscillator take

    private readonly IReadOnlyList<double> events; // s after a crossing
    private readonly double longest;
    private double crossing; // the last one, s
    private int crossings;
    private int next; // of the events
    private int looked; // steps of the tape

    /// <summary>For what a run-in leads to.</summary>
    public ForetoldSteps(RunIn settled)
    {
        (events, crossing, longest) = (settled.Events, settled.Crossing, settled.Period / StepsPerPeriod);
        while (next < events.Count - 1 && crossing + events[next] <= settled.Run.Time)
            next++;
    }

    /// <summary>The longest step from where the run stands, s.</summary>
    public double Longest(Transient run)
    {
        for (; looked < run.Tape!.Steps.Count; looked++)
            if (run.Tape.Steps[looked].Watch >= 0)
                next++;
        if (run.Crossings.Count > crossings)
            (crossings, crossing, next) = (run.Crossings.Count, run.Crossings[^1].Time, 0);
        double step = longest;
        for (int i = next; i < events.Count; i++)
            step = Math.Min(step, Math.Max(Shortest, Share * Math.Abs(crossing + events[i] - run.Time)));
        return step;
    }
}
