using Consort.Engine.Circuit;
using Consort.Engine.Circuit.Motion;

namespace Consort.Engine.Pitch;

/// <summary>A run that was kept step by step until so many periods were counted.</summary>
/// <param name="Run">Where it stands at its last crossing.</param>
/// <param name="Steps">The steps on its tape that ended on crossings.</param>
internal sealed record TapedPeriods(Transient Run, IReadOnlyList<int> Steps)
{
    /// <summary>The last period, s.</summary>
    public double Period => Run.Crossings[^1].Time - Run.Crossings[^2].Time;

    /// <summary>Where it began, s.</summary>
    public double Start => Run.Crossings[^2].Time;

    /// <summary>Follows a run from a state over so many whole periods; neither result nor failure when it does not oscillate
    /// before the end.</summary>
    /// <param name="longest">No step from that moment is longer, s; it is told what is on the tape.</param>
    public static (TapedPeriods? Periods, SolveFailure? Failure) Follow(Engine.Circuit.Circuit circuit, Transient run, double[] x, int cycles, double end, Func<Transient, double>? longest = null)
    {
        run.Tape = new(circuit);
        run.Start(x);
        return GoOn(run, [], cycles, end, longest);
    }

    /// <summary>The same with a run that was begun, and so many whole periods in all.</summary>
    /// <param name="before">The steps on its tape that ended on crossings so far.</param>
    public static (TapedPeriods? Periods, SolveFailure? Failure) GoOn(Transient run, IEnumerable<int> before, int cycles, double end, Func<Transient, double>? longest)
    {
        List<int> steps = [.. before];
        while (steps.Count <= cycles && run.Time < end)
        {
            int crossings = run.Crossings.Count;
            if (run.Step(Math.Min(end, run.Time + (longest?.Invoke(run) ?? double.PositiveInfinity))) is { } failed)
                return (null, failed);
            if (run.Crossings.Count > crossings)
                steps.Add(run.Tape!.Steps.Count - 1);
        }
        return steps.Count > cycles ? (new(run, steps), null) : (null, null);
    }
}
