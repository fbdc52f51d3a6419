using Consort.Engine.Circuit;
using Consort.Engine.Circuit.Motion;

namespace Consort.Engine.Pitch.Locking;

/// <summary>A lock range from the whole circuit in motion beside the reduced one.</summary>
/// <param name="Pair">The reduced one.</param>
/// <param name="Whole">The same range's width from the whole circuit: between the speeds of the drift where it is quickest
/// and where it is slowest, cents.</param>
public sealed record LockCheck(PairLock Pair, double Whole)
{
    /// <summary>The reduced one's width, cents.</summary>
    public double Reduced => Pair.Width;

    /// <summary>By which share the reduced one is off.</summary>
    public double Error => Reduced / Whole - 1;

    /// <summary>Runs a pair with both oscillators going at phases around the one where the second drifts fastest and around
    /// the one where slowest, and takes the difference of the extremes. They are first brought to unison, so that they stay at
    /// their phase; all others are held. Neither result nor failure where they would not stay: where edges meet for a
    /// ten-thousandth of a turn only.</summary>
    /// <remarks>Extremes are looked for and not met at the reduced curve's own phases: phase is told by crossings of a net
    /// whose 0 V is moved by what the other one draws (some 60 ns in the pair of the examples), and edges that meet last
    /// hardly longer. What decides where they lock is how quick the drift gets, not which phase that is called.</remarks>
    public static (LockCheck? Check, SolveFailure? Failure) Run(PlayedVoice voice, PairLock pair, int threads = 1, Accuracy? accuracy = null, CancellationToken cancel = default)
    {
        PlayedVoice twin = voice.Twin(accuracy ?? LockReader.Fine);
        (Meeting? apart, SolveFailure? failure) = new Encounter(twin, pair).Meet(0);
        if (apart is not { } natural)
            return (null, failure);
        twin.Circuit[twin.Oscillators.First(oscillator => oscillator.Name == pair.Second).TimingCapacitor, "value"] *= Math.Pow(2, natural.Cents / 1200);
        (double? Cents, SolveFailure? Failure)[] extremes = new (double?, SolveFailure?)[2];
        ParallelWork.Each(2, threads, i => extremes[i] = Extreme(new(twin.Twin(), pair), pair.Curve, i == 0 ? 1 : -1), cancel);
        return extremes[0].Cents is { } quickest && extremes[1].Cents is { } slowest ? (new(pair, quickest - slowest), null) : (null, extremes[0].Failure ?? extremes[1].Failure);
    }

    // Half a peak's width apart, to one and a half widths either way; then between the best and its neighbours, four times
    // nearer. Near is told by the moment of release: the phase itself changes while the two pull each other.
    private const int Reach = 3;
    private const int Nearer = 4;

    /// <summary>The drift's speed at its extreme near that of the curve, cents.</summary>
    /// <param name="sign">1 for the quickest, -1 for the slowest.</param>
    private static (double? Cents, SolveFailure? Failure) Extreme(Encounter encounter, IReadOnlyList<double> curve, int sign)
    {
        (double place, double width) = Peak(curve, sign);
        List<Meeting> met = [];
        double step = 0.5 * width;
        for (int k = -Reach; k <= Reach; k++)
            if (Add(encounter.MeetNear(place + k * step)) is { } failed)
                return (null, failed);
        met.RemoveAll(meeting => Math.Abs(Math.IEEERemainder(meeting.Phase - place, 1)) > (Reach + 1) * step);
        if (met.Count <= Reach)
            return (null, null);
        for (int i = 0; i < Nearer; i++)
        {
            step /= 2;
            double best = Best().After, turns = step / encounter.PerRelease;
            if ((Add(encounter.Meet(best - turns)) ?? Add(encounter.Meet(best + turns))) is { } failed)
                return (null, failed);
        }
        return (Best().Cents, null);

        Meeting Best() => met.MaxBy(meeting => sign * meeting.Cents);

        SolveFailure? Add((Meeting? Met, SolveFailure? Failure) tried)
        {
            if (tried.Met is { } meeting)
                met.Add(meeting);
            return tried.Failure;
        }
    }

    // Where a curve is highest, or lowest, turns, and for how many turns around that it is more than half of it.
    private static (double Place, double Width) Peak(IReadOnlyList<double> curve, int sign)
    {
        int count = curve.Count;
        int top = Enumerable.Range(0, count).MaxBy(i => sign * curve[i]);
        int from = top, to = top;
        while (to - from < count / 2 && IsHigh(from - 1))
            from--;
        while (to - from < count / 2 && IsHigh(to + 1))
            to++;
        return ((double)top / count, (double)(to - from + 1) / count);

        bool IsHigh(int i) => curve[(i + count) % count] / curve[top] > 0.5;
    }
}
