using Consort.Engine.Sound.Oscillators;

namespace Consort.Engine.Sound.Sync;

/// <summary>Samples of a phase map so far, and where the next one tells most.</summary>
internal sealed class MapSketch
{
    private const int Coarse = 16; // samples a period at least
    private const double Near = 4e-3; // what lines on may miss a sample by, turns
    private const double Finest = 1.0 / 512;
    private const int Most = 96;
    private const int MostTries = 3; // for one gap: the aim is not that good

    // Less than this is the follower's free period misjudged, or another oscillator on the same supply.
    private const double Still = 3e-4;

    private readonly SortedList<double, double> samples = [];
    private readonly Dictionary<(double, double), int> tries = [];

    /// <summary>Takes a sample in.</summary>
    public void Add(double before, double after)
    {
        double moved = Quantities.Turns.Short(after - before);
        samples[before] = Math.Abs(moved) < Still ? before : before + moved;
    }

    /// <summary>The map through them.</summary>
    public PhaseMap Map => PhaseMap.Through(samples.Select(pair => (pair.Key, pair.Value)));

    /// <summary>True when some sample was moved by more than so many turns.</summary>
    public bool Moves(double turns) => samples.Any(pair => Math.Abs(pair.Value - pair.Key) > turns);

    /// <summary>The phase at which the next sample is wanted; null: enough is known.</summary>
    public double? Wanted()
    {
        if (samples.Count == 0)
            return 0.5;
        if (samples.Count >= Most)
            return null;
        (double worst, double from, double to) = (0, 0, 0);
        for (int i = 0; i < samples.Count; i++)
        {
            (double a, double b) = (Phase(i), Phase(i + 1));
            double weight = b - a > 1.0 / Coarse ? 1 + b - a : b - a > Finest && Doubt(i) is var doubt && doubt > Near ? doubt : 0;
            if (weight > worst && tries.GetValueOrDefault((a, b)) < MostTries)
                (worst, from, to) = (weight, a, b);
        }
        if (worst == 0)
            return null;
        tries[(from, to)] = tries.GetValueOrDefault((from, to)) + 1;
        return Quantities.Turns.Part(0.5 * (from + to));
    }

    // By how much the better one of the lines from the left and from the right misses the gap's other end.
    private double Doubt(int i)
    {
        double left = Slope(i - 1), right = Slope(i + 1), gap = Phase(i + 1) - Phase(i), rise = After(i + 1) - After(i);
        return Math.Min(Math.Abs(Quantities.Turns.Short(rise - left * gap)), Math.Abs(Quantities.Turns.Short(rise - right * gap)));
    }

    private double Slope(int i) => Quantities.Turns.Short(After(i + 1) - After(i)) / (Phase(i + 1) - Phase(i));

    private double Phase(int i) => samples.Keys[Around(i)] + Turns(i);

    private double After(int i) => samples.Values[Around(i)] + Turns(i);

    private int Around(int i) => ((i % samples.Count) + samples.Count) % samples.Count;

    private double Turns(int i) => Math.Floor((double)i / samples.Count);
}
