namespace Consort.Engine.Circuit.Parts;

/// <summary>
/// Levels between 0 and 1 that follow scheduled moves. A move begins at its start from whatever the level is then and
/// takes a given time, along 3x² − 2x³: the level never jumps and its slope never does. The level is a plain function of
/// time, so a step that is taken back needs no undoing; only scheduling changes the state.
/// </summary>
internal sealed class Ramps
{
    private const double LeastDuration = 1e-15;

    private readonly double[] durations;
    private readonly double[] settled;
    private readonly int[] pending;
    private readonly double[] settledCauses;
    private double[] starts;
    private double[] targets;
    private double[] causes;
    private int capacity = 4;

    public Ramps(int count)
    {
        durations = new double[count];
        settled = new double[count];
        pending = new int[count];
        settledCauses = new double[count];
        starts = new double[count * capacity];
        targets = new double[count * capacity];
        causes = new double[count * capacity];
        Array.Fill(settledCauses, double.NaN);
    }

    /// <summary>Sets how long every move of a level takes, s.</summary>
    public void SetDuration(int i, double seconds) => durations[i] = Math.Max(seconds, LeastDuration);

    /// <summary>Puts a level at rest.</summary>
    public void Settle(int i, double level)
    {
        settled[i] = level;
        settledCauses[i] = double.NaN;
        pending[i] = 0;
    }

    /// <summary>True when no move is scheduled or remembered and the level is this one.</summary>
    public bool IsAt(int i, double level) => pending[i] == 0 && settled[i] == level;

    /// <summary>Schedules a move to a target from a start no earlier than those scheduled before. Moves that had ended at
    /// its cause are forgotten.</summary>
    /// <param name="i">Which level.</param>
    /// <param name="cause">Moment of the event behind it, s.</param>
    /// <param name="start">Start of the move, s.</param>
    /// <param name="target">Level at its end.</param>
    public void Schedule(int i, double cause, double start, double target)
    {
        ForgetEnded(i, cause);
        if (pending[i] == capacity)
            Grow();
        int at = i * capacity + pending[i]++;
        starts[at] = start;
        targets[at] = target;
        causes[at] = cause;
    }

    /// <summary>The cause of the last move that has started by a time; NaN when there was none.</summary>
    public double CauseOf(int i, double time)
    {
        double cause = settledCauses[i];
        int first = i * capacity;
        for (int k = 0; k < pending[i] && starts[first + k] <= time; k++)
            cause = causes[first + k];
        return cause;
    }

    /// <summary>The level at a time.</summary>
    public double Level(int i, double time)
    {
        double level = settled[i];
        int count = pending[i];
        if (count == 0)
            return level;
        int first = i * capacity;
        for (int k = 0; k < count && time > starts[first + k]; k++)
            level = Moved(level, i, first, k, time);
        return level;
    }

    /// <summary>Rate of the level at a time, 1/s.</summary>
    public double Rate(int i, double time)
    {
        double level = settled[i];
        double rate = 0;
        int first = i * capacity;
        for (int k = 0; k < pending[i] && time > starts[first + k]; k++)
        {
            double x = (time - starts[first + k]) / durations[i];
            rate = x < 1 ? (targets[first + k] - level) * 6 * x * (1 - x) / durations[i] : 0;
            level = Moved(level, i, first, k, time);
        }
        return rate;
    }

    /// <summary>The first start or end of a move after a time, over all levels.</summary>
    public double NextCorner(double after)
    {
        double next = double.PositiveInfinity;
        for (int i = 0; i < pending.Length; i++)
        for (int k = 0; k < pending[i]; k++)
        {
            double start = starts[i * capacity + k];
            double end = start + durations[i];
            if (start > after)
                next = Math.Min(next, start);
            else if (end > after)
                next = Math.Min(next, end);
        }
        return next;
    }

    /// <summary>The cause of the move that starts or ends at a time, and which of the two; null when none does.</summary>
    public (double Cause, bool IsEnd)? CornerAt(int i, double time)
    {
        // A step that lands on a corner ends there but for rounding; a corner may also lie a tenth of a picosecond behind.
        double near = Math.Max(1e-13, 8e-16 * Math.Abs(time));
        for (int k = 0; k < pending[i]; k++)
        {
            double start = starts[i * capacity + k];
            if (Math.Abs(start - time) <= near)
                return (causes[i * capacity + k], false);
            if (Math.Abs(start + durations[i] - time) <= near)
                return (causes[i * capacity + k], true);
        }
        return null;
    }

    /// <summary>Writes the state behind what is there.</summary>
    public void Save(List<double> into)
    {
        for (int i = 0; i < pending.Length; i++)
        {
            into.Add(settled[i]);
            into.Add(settledCauses[i]);
            into.Add(pending[i]);
            for (int k = 0; k < pending[i]; k++)
            {
                into.Add(starts[i * capacity + k]);
                into.Add(targets[i * capacity + k]);
                into.Add(causes[i * capacity + k]);
            }
        }
    }

    /// <summary>Reads the state back.</summary>
    public void Restore(ReadOnlySpan<double> from)
    {
        int at = 0;
        for (int i = 0; i < pending.Length; i++)
        {
            settled[i] = from[at++];
            settledCauses[i] = from[at++];
            pending[i] = (int)from[at++];
            while (pending[i] > capacity)
                Grow();
            for (int k = 0; k < pending[i]; k++)
            {
                starts[i * capacity + k] = from[at++];
                targets[i * capacity + k] = from[at++];
                causes[i * capacity + k] = from[at++];
            }
        }
    }

    /// <summary>Level after move k at a time, or where the next move takes over.</summary>
    private double Moved(double level, int i, int first, int k, double time)
    {
        double until = k + 1 < pending[i] ? Math.Min(time, starts[first + k + 1]) : time;
        double x = (until - starts[first + k]) / durations[i];
        double target = targets[first + k];
        return x >= 1 ? target : level + (target - level) * x * x * (3 - 2 * x);
    }

    private void ForgetEnded(int i, double now)
    {
        int first = i * capacity;
        int ended = 0;
        while (ended < pending[i] && starts[first + ended] + durations[i] <= now)
        {
            // A later move may have taken over before this one ended: what it starts from is still needed.
            if (ended + 1 < pending[i] && starts[first + ended + 1] < starts[first + ended] + durations[i])
                break;
            settled[i] = targets[first + ended];
            settledCauses[i] = causes[first + ended++];
        }
        if (ended == 0)
            return;
        pending[i] -= ended;
        Array.Copy(starts, first + ended, starts, first, pending[i]);
        Array.Copy(targets, first + ended, targets, first, pending[i]);
        Array.Copy(causes, first + ended, causes, first, pending[i]);
    }

    private void Grow()
    {
        int wider = capacity * 2;
        starts = Widened(starts, wider);
        targets = Widened(targets, wider);
        causes = Widened(causes, wider);
        capacity = wider;
    }

    private double[] Widened(double[] narrow, int wider)
    {
        double[] wide = new double[pending.Length * wider];
        for (int i = 0; i < pending.Length; i++)
            Array.Copy(narrow, i * capacity, wide, i * wider, pending[i]);
        return wide;
    }
}
