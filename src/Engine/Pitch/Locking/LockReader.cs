using System.Collections.Immutable;
using Consort.Engine.Circuit;
using Consort.Engine.Circuit.Motion;
using Consort.Engine.Circuit.Wiring;
using Consort.Engine.Quantities;

namespace Consort.Engine.Pitch.Locking;

/// <summary>
/// Lock ranges of all pairs near unison, or near another ratio of small whole numbers. Each oscillator is run twice: alone,
/// with its surroundings standing, for how its period answers to currents at its jacks, link and supply; and in the whole
/// voice with all others held, for what it brings to theirs. The product over one turn of phase is what a full run of both
/// would show, to the first order of what couples them.
/// </summary>
public sealed class LockReader
{
    /// <summary>Cells of a turn: half a microsecond at 32 Hz.</summary>
    public const int Cells = 1 << 16;

    /// <summary>How closely both runs follow the circuit: what couples is microvolts beside volts.</summary>
    public static Accuracy Fine { get; } = new(1e-5);

    // Of the largest swing that any net can bring: one that can bring less than this share is not looked at phase by phase.
    private const double Negligible = 1e-4;

    private readonly PlayedVoice voice;
    private readonly int threads;
    private readonly Player[] players;

    /// <summary>For a prepared voice.</summary>
    /// <param name="threads">How many may work; the result does not depend on it.</param>
    public LockReader(PlayedVoice voice, int threads)
    {
        (this.voice, this.threads) = (voice, threads);
        players = [.. voice.Oscillators.Select(oscillator => new Player(voice.Twin(Fine), oscillator))];
    }

    /// <summary>Largest share that an adjoint lost, of all that were read.</summary>
    public double Truncation { get; private set; }

    /// <summary>How many pairs are meant to stand near no ratio that is looked at.</summary>
    public int LeftOut => AllPairs.Count(pair => Ratio.Of(Stands(pair.First, pair.Second)) is null);

    private IEnumerable<(int First, int Second)> AllPairs =>
        Enumerable.Range(0, players.Length).SelectMany(i => Enumerable.Range(i + 1, players.Length - i - 1).Select(j => (i, j)));

    /// <summary>All pairs at one note.</summary>
    public (ImmutableArray<PairLock> Pairs, SolveFailure? Failure) At(double volts, CancellationToken cancel = default)
    {
        SolveFailure?[] failures = new SolveFailure?[players.Length];
        ParallelWork.Each(players.Length, threads, i => failures[i] = players[i].Play(volts), cancel);
        if (failures.FirstOrDefault(failure => failure is not null) is { } failed)
            return ([], failed);
        Truncation = Math.Max(Truncation, players.Max(player => player.Response!.Truncation));
        (int First, int Second)[] pairs = [.. AllPairs.Where(pair => Ratio.Of(Stands(pair.First, pair.Second)) is not null)];
        PairLock[] read = new PairLock[pairs.Length];
        ParallelWork.Each(pairs.Length, threads, k => read[k] = Pair(pairs[k].First, pairs[k].Second, volts), cancel);
        return ([.. read], null);
    }

    private double Stands(int first, int second) => voice.Oscillators[second].Member.StandsCents - voice.Oscillators[first].Member.StandsCents;

    private PairLock Pair(int first, int second, double volts)
    {
        Ratio ratio = Ratio.Of(Stands(first, second))!.Value;
        Dictionary<CouplingPath, double[]> paths = [];
        // What the second brings to the first, by its phase ahead of the first's, takes from the second's lead; what the first
        // brings to the second has the phase the other way round.
        foreach ((CouplingPath path, double[] cents) in Felt(first, second, ratio.Second, ratio.First))
            Add(paths, path, cents, i => i, -1);
        foreach ((CouplingPath path, double[] cents) in Felt(second, first, ratio.First, ratio.Second))
            Add(paths, path, cents, i => (Cells - i) % Cells, 1);
        double[] curve = new double[Cells];
        foreach (double[] part in paths.Values)
            for (int i = 0; i < Cells; i++)
                curve[i] += part[i];
        double pull = curve.Average();
        int highest = Array.IndexOf(curve, curve.Max()), lowest = Array.IndexOf(curve, curve.Min());
        PathShare[] shares = [.. paths.Select(pair => new PathShare(pair.Key, pair.Value[highest] - pair.Value[lowest])).OrderByDescending(share => share.Cents)];
        return new(
            voice.Oscillators[first].Name,
            voice.Oscillators[second].Name,
            volts,
            1 / players[first].Response!.Period,
            Stands(first, second) - ratio.Cents,
            [.. curve.Select(cents => cents - pull)],
            pull,
            [.. shares]
        )
        {
            Ratio = ratio,
        };
    }

    private static void Add(Dictionary<CouplingPath, double[]> paths, CouplingPath path, double[] cents, Func<int, int> from, double sign)
    {
        if (!paths.TryGetValue(path, out double[]? sum))
            paths[path] = sum = new double[Cells];
        for (int i = 0; i < Cells; i++)
            sum[i] += sign * cents[from(i)];
    }

    // How one's pitch moves, by path and by the other's phase ahead of its own, cents; so many periods of the other go with so
    // many of its own. Of nets through which next to nothing can come only the mean is taken.
    private IEnumerable<(CouplingPath Path, double[] Cents)> Felt(int one, int other, int others, int own)
    {
        Player player = players[one];
        Disturbance brought = players[other].Brings[one < other ? one : one - 1];
        Meeting[] all = [.. player.Shared.Select((net, port) => new Meeting(CouplingPaths.Of(voice.Voice, net), player.Response!.ByRow(port), brought.Cells(port, Cells)))];
        double little = Negligible * all.Max(meeting => meeting.Reach);
        foreach (IGrouping<CouplingPath, Meeting> path in all.GroupBy(meeting => meeting.Path))
        {
            LockCurve curve = new(Cells, others, own);
            foreach (Meeting meeting in path)
                if (meeting.Reach > little)
                    curve.Add(meeting.Response, meeting.Brought);
                else
                    curve.AddMean(meeting.Response, meeting.Brought);
            yield return (path.Key, curve.Cents());
        }
    }

    /// <summary>How one's period answers through a net that it shares, and what another brings there.</summary>
    private sealed record Meeting(CouplingPath Path, double[] Response, double[] Brought)
    {
        public double Reach { get; } = LockCurve.Reach(Response, Brought);
    }

    /// <summary>One oscillator with what is read of it at the present note.</summary>
    private sealed class Player
    {
        private readonly PlayedVoice own;
        private readonly Oscillator oscillator;
        private readonly Piece[] others;
        private readonly SoloOscillator solo;
        private bool isReady;

        public Player(PlayedVoice own, Oscillator oscillator)
        {
            (this.own, this.oscillator) = (own, oscillator);
            solo = new(own, oscillator);
            others = [.. own.Oscillators.Where(other => other.Name != oscillator.Name).Select(other => new Piece(own.Circuit, other.Name, own.PreparedRest))];
        }

        public IReadOnlyList<string> Shared => solo.Shared;

        public PhaseResponse? Response { get; private set; }

        public Disturbance[] Brings { get; private set; } = [];

        public SolveFailure? Play(double volts)
        {
            if (!isReady && solo.Prepare(own.MiddleVolts) is { } unready)
                return unready;
            isReady = true;
            (double[]? x, SolveFailure? failure) = solo.Start(volts);
            if (x is null)
                return failure;
            int[] rows = [.. solo.Shared.Select(solo.Circuit.Net)];
            double ideal = 1 / oscillator.IdealHertz(volts);
            (Response, failure) = PhaseResponse.Read(solo.Circuit, solo.TapedRun(), solo.Probe, x, rows, Cells, ideal);
            if (Response is null)
                return failure ?? new($"{oscillator.Name} does not oscillate", oscillator.Spec.Net, PlayedVoice.MostPeriods * ideal, 0);
            (Disturbance[]? brings, failure) = Disturbance.Take(own, own.Oscillators.First(mine => mine.Name == oscillator.Name), others, volts);
            Brings = brings ?? [];
            return failure;
        }
    }
}
