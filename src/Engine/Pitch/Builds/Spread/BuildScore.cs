using Consort.Engine.Design;

namespace Consort.Engine.Pitch.Builds.Spread;

/// <summary>How one build stands against the limits, cents. What does not oscillate is infinitely far off.</summary>
/// <param name="Tracking">Worst error over the octaves that are asked, at the bench's temperature.</param>
/// <param name="TrackingAt">Oscillator and note of it.</param>
/// <param name="Drift">Largest move of any note to the other temperatures.</param>
/// <param name="Follower">Worst follower against its lead, at all temperatures.</param>
internal readonly record struct BuildScore(double Tracking, (int Oscillator, int Note) TrackingAt, double Drift, double Follower)
{
    /// <summary>How far past its limits: 1 is just at the one that is closest.</summary>
    public double Against(Limits limits) =>
        Math.Max(Tracking / limits.TrackingCents, Math.Max(Drift / limits.DriftCents, Follower / limits.FollowerCents));

    /// <summary>True when it keeps them all.</summary>
    public bool Keeps(Limits limits) => Against(limits) <= 1;
}

/// <summary>Scores builds.</summary>
internal sealed class BuildJudge
{
    private readonly int[] leads; // by oscillator; −1 for those that follow none
    private readonly int[] followers;
    private readonly int temperatures;
    private readonly int oscillators;

    public BuildJudge(VoiceBuilds builds)
    {
        Voice voice = builds.Voice.Voice;
        Limits = voice.Limits;
        (oscillators, temperatures) = (builds.Laws.Length, builds.Kelvins.Length);
        double octave = builds.Voice.Oscillators[0].Spec.VoltsPerOctave;
        Asked = [.. Enumerable.Range(0, builds.Volts.Length).Where(n => Limits.Asks(builds.Volts[n], octave))];
        leads = [.. builds.Voice.Oscillators.Select(oscillator => builds.Voice.LeadOf(oscillator) is { } lead ? builds.Voice.Oscillators.IndexOf(lead) : -1)];
        followers = [.. Enumerable.Range(0, oscillators).Where(o => leads[o] >= 0)];
    }

    /// <summary>The limits.</summary>
    public Limits Limits { get; }

    /// <summary>Notes of the octaves that are asked.</summary>
    public int[] Asked { get; }

    /// <summary>Oscillators that follow one that has a circuit.</summary>
    public IReadOnlyList<int> Followers => followers;

    /// <summary>By how much a follower in one lane of a bench is off more than its lead is, cents.</summary>
    public double Apart<T>(BuildBench<T> bench, int follower, int k, int n, int lane)
        where T : struct, Lanes.ILanes<T> => bench.Cents(follower, k, n, lane) - bench.Cents(leads[follower], k, n, lane);

    /// <summary>Scores one lane of a bench.</summary>
    public BuildScore Score<T>(BuildBench<T> bench, int lane)
        where T : struct, Lanes.ILanes<T>
    {
        double drift = 0;
        double follower = 0;
        (double tracking, (int, int) at) = Tracking(bench, lane);
        for (int o = 0; o < oscillators; o++)
            foreach (int n in Asked)
                for (int k = 1; k < temperatures; k++)
                    drift = Math.Max(drift, Size(bench.Cents(o, k, n, lane) - bench.Cents(o, 0, n, lane)));
        foreach (int o in followers)
            foreach (int n in Asked)
                follower = Math.Max(follower, Wander(bench, o, n, lane));
        return new(tracking, at, drift, follower);
    }

    /// <summary>True when one lane of a bench keeps all limits.</summary>
    public bool Passes<T>(BuildBench<T> bench, int lane)
        where T : struct, Lanes.ILanes<T> => Score(bench, lane).Keeps(Limits);

    /// <summary>True when it keeps that of tracking, which the bench's temperature alone tells.</summary>
    public bool Tracks<T>(BuildBench<T> bench, int lane)
        where T : struct, Lanes.ILanes<T> => Tracking(bench, lane).Cents / Limits.TrackingCents <= 1;

    private (double Cents, (int Oscillator, int Note) At) Tracking<T>(BuildBench<T> bench, int lane)
        where T : struct, Lanes.ILanes<T>
    {
        (double Cents, (int, int)) worst = (0, (0, Asked[0]));
        for (int o = 0; o < oscillators; o++)
            foreach (int n in Asked)
                if (Size(bench.Cents(o, 0, n, lane)) is var cents && cents > worst.Cents)
                    worst = (cents, (o, n));
        return worst;
    }

    /// <summary>Largest error of a follower against its lead at a note, over all temperatures, cents.</summary>
    public double Wander<T>(BuildBench<T> bench, int follower, int n, int lane)
        where T : struct, Lanes.ILanes<T>
    {
        double most = 0;
        for (int k = 0; k < temperatures; k++)
            most = Math.Max(most, Size(Apart(bench, follower, k, n, lane)));
        return most;
    }

    /// <summary>Largest move of any note of one lane while it warms up, cents.</summary>
    public double Lag<T>(BuildBench<T> bench, int lane)
        where T : struct, Lanes.ILanes<T>
    {
        double most = 0;
        for (int o = 0; o < oscillators; o++)
            foreach (int n in Asked)
                most = Math.Max(most, Size(bench.Moved(o, n, lane)));
        return most;
    }

    private static double Size(double cents) => double.IsNaN(cents) ? double.PositiveInfinity : Math.Abs(cents);
}
