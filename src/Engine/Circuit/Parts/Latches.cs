namespace Consort.Engine.Circuit.Parts;

/// <summary>Two-state decisions, each with a level that follows it by a ramp after a delay. What comparators and analog
/// switches share.</summary>
internal sealed class Latches
{
    private readonly bool[] isHigh;
    private readonly double[] delays;
    private readonly double[] lowLevels;

    /// <summary>So many decisions, all low.</summary>
    public Latches(int count)
    {
        isHigh = new bool[count];
        delays = new double[count];
        lowLevels = new double[count];
        Ramps = new(count);
    }

    /// <summary>The levels.</summary>
    public Ramps Ramps { get; }

    /// <summary>The decision.</summary>
    public bool IsHigh(int i) => isHigh[i];

    /// <summary>Sets a latch's timing, s, and the level that goes with its low state (the high state's is 1 less it).</summary>
    public void Set(int i, double delay, double ramp, double lowLevel)
    {
        delays[i] = delay;
        Ramps.SetDuration(i, ramp);
        if (lowLevels[i] == lowLevel)
            return;
        lowLevels[i] = lowLevel;
        Ramps.Settle(i, LevelOf(i));
    }

    /// <summary>Turns the decision over at a time; the level follows after the delay.</summary>
    public void Toggle(int i, double time)
    {
        isHigh[i] = !isHigh[i];
        Ramps.Schedule(i, time, time + delays[i], LevelOf(i));
    }

    /// <summary>Takes a decision at rest, its level with it; false when nothing changed.</summary>
    public bool Settle(int i, bool high)
    {
        isHigh[i] = high;
        bool changes = !Ramps.IsAt(i, LevelOf(i));
        Ramps.Settle(i, LevelOf(i));
        return changes;
    }

    /// <summary>Copies all out.</summary>
    public double[] Save()
    {
        List<double> state = [.. isHigh.Select(high => high ? 1.0 : 0.0)];
        Ramps.Save(state);
        return [.. state];
    }

    /// <summary>Takes all back.</summary>
    public void Restore(double[] state)
    {
        for (int i = 0; i < isHigh.Length; i++)
            isHigh[i] = state[i] != 0;
        Ramps.Restore(state.AsSpan(isHigh.Length));
    }

    private double LevelOf(int i) => isHigh[i] ? 1 - lowLevels[i] : lowLevels[i];
}
