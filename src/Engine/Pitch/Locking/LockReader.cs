using System.Collections.Immutable;
using Consort.Engine.Circuit;
using Consort.Engine.Circuit.Motion;
using Consort.Engine.Circuit.Rest;
using Consort.Engine.Pitch.Builds.Cores;

namespace Consort.Engine.Pitch.Locking;

/// <summary>
/// Lock ranges of all pairs near unison, or near another ratio of small whole numbers. Each oscillator is run twice: alone,
/// with its surroundings standing, for how its period answers to currents at its jacks, link and supply; and in the whole
/// voice with all others held, for what it brings to theirs. The product over one turn of phase is what a full run of both
/// would show, to the first order of what couples them.
/// </summary>
public sealed class LockReader
{
    // Cells of a turn: edges that meet may last 0.1 µs, and of a range that they make a tenth is lost where cells are as long.
    private const int Fewest = 1 << 16;
    private const int Most = 1 << 18; // from some 130 Hz down cells are longer than this:
    private const double Longest = 25e-9; // s
    private const int AtFirstLook = 1 << 13;

    /// <summary>How closely what one brings to another is followed: it is microvolts beside volts. Ranges are nearer to those at a
    /// thirtieth of this than by steps with Newton three times as close, which cost a third more.</summary>
    public static Accuracy Fine { get; } = new(3e-5, Linear: true);

    private readonly PlayedVoice voice;
    private readonly int threads;
    private readonly LockPlayer[] players;
    private readonly Lazy<string[]> kinds;

    /// <summary>For a prepared voice.</summary>
    /// <param name="threads">How many may work; the result does not depend on it.</param>
    public LockReader(PlayedVoice voice, int threads)
    {
        (this.voice, this.threads) = (voice, threads);
        players = [.. voice.Oscillators.Select(oscillator => new LockPlayer(voice, oscillator, Fine))];
        kinds = new(() => [.. players.Select((player, i) => PortSide.Kind(CoreKind.Of(voice, i), voice.Oscillators[i].Name, player.Shared))]);
    }

    /// <summary>Largest share that an adjoint lost, of all that were read.</summary>
    public double Truncation => players.Max(player => player.Truncation);

    /// <summary>How many pairs are meant to stand near no ratio that is looked at.</summary>
    public int LeftOut => AllPairs.Length - NearPairs.Length;

    private (int First, int Second)[] AllPairs => [.. Enumerable.Range(0, players.Length).SelectMany(i => Enumerable.Range(i + 1, players.Length - i - 1).Select(j => (i, j)))];

    private (int First, int Second)[] NearPairs => [.. AllPairs.Where(pair => PairReader.RatioOf(voice, pair.First, pair.Second) is not null)];

    /// <summary>All pairs at one note.</summary>
    public (ImmutableArray<PairLock> Pairs, SolveFailure? Failure) At(double volts, CancellationToken cancel = default)
    {
        int[] all = [.. Enumerable.Range(0, players.Length)];
        if (Each(all, i => players[i].ReadResponse(volts, Cells(volts)) ?? players[i].ReadBrought(volts, Others(i, all)), cancel) is { } failed)
            return ([], failed);
        (int First, int Second)[] pairs = NearPairs;
        PairLock[] read = new PairLock[pairs.Length];
        PairReader reader = InFull(volts);
        ParallelWork.Each(pairs.Length, threads, k => read[k] = reader.Read(pairs[k].First, pairs[k].Second), cancel);
        return ([.. read], null);
    }

    /// <summary>The pair that locks over the widest range at one note: of all by a first look (<see cref="PortSide"/>), and that one in
    /// full. Neither pair nor failure when no two stand near a ratio.</summary>
    public (PairLock? Pair, SolveFailure? Failure) Widest(double volts, CancellationToken cancel = default) =>
        Widest(volts, PortSides.Read([this], volts, threads, cancel), cancel);

    /// <summary>The same with what was read for the first look.</summary>
    internal (PairLock? Pair, SolveFailure? Failure) Widest(double volts, PortSides sides, CancellationToken cancel)
    {
        (int First, int Second)[] pairs = NearPairs;
        if (pairs.Length == 0)
            return (null, null);
        int widest = 0;
        if (pairs.Length > 1)
        {
            (PairReader? look, SolveFailure? failure) = AtFirst(volts, sides);
            if (look is null)
                return (null, failure);
            double[] widths = new double[pairs.Length];
            ParallelWork.Each(pairs.Length, threads, k => widths[k] = look.Read(pairs[k].First, pairs[k].Second).Width, cancel);
            widest = Array.IndexOf(widths, widths.Max());
        }
        (int first, int second) = pairs[widest];
        int[] both = [first, second];
        return Each(both, i => (players[i].HasReadAt(volts) ? null : players[i].ReadResponse(volts, Cells(volts))) ?? players[i].ReadBrought(volts, Others(i, both)), cancel) is { } failed
            ? (null, failed)
            : (InFull(volts).Read(first, second), null);
    }

    /// <summary>The oscillators at which a first look is needed.</summary>
    internal IEnumerable<int> Looked => NearPairs is { Length: > 1 } pairs ? pairs.SelectMany(pair => (int[])[pair.First, pair.Second]).Distinct().Order() : [];

    /// <summary>The kind of one of them.</summary>
    internal string KindOf(int oscillator) => kinds.Value[oscillator];

    /// <summary>Reads one of them for others of its kind.</summary>
    internal (PortSide? Side, SolveFailure? Failure) ReadSide(double volts, int oscillator)
    {
        if (players[oscillator].ReadResponse(volts, Cells(volts)) is { } failed)
            return (null, failed);
        (RestCoupling? coupling, SolveFailure? failure) = Coupling(volts);
        return coupling is null ? (null, failure) : (PortSide.Of(players[oscillator].Response!, coupling.At(oscillator), Cells(volts), Cells(volts) / AtFirstLook), null);
    }

    private int Cells(double volts)
    {
        double period = 1 / voice.Oscillators.Min(oscillator => oscillator.IdealHertz(volts));
        int cells = Fewest;
        while (cells < Most && period / cells > Longest)
            cells *= 2;
        return cells;
    }

    private SolveFailure? Each(int[] some, Func<int, SolveFailure?> work, CancellationToken cancel)
    {
        SolveFailure?[] failures = new SolveFailure?[some.Length];
        ParallelWork.Each(some.Length, threads, k => failures[k] = work(some[k]), cancel);
        return failures.FirstOrDefault(failure => failure is not null);
    }

    private Oscillator[] Others(int own, int[] among) => [.. among.Where(i => i != own).Select(i => voice.Oscillators[i])];

    private PairReader InFull(double volts) => new()
    {
        Voice = voice,
        Volts = volts,
        Cells = Cells(volts),
        Players = players,
        Hertz = one => 1 / players[one].Response!.Period,
        Response = (one, port) => players[one].Response!.WaveOf(port),
        Brought = (one, other, port) => new(players[other].Brings(voice.Oscillators[one]).Cells(port, Cells(volts))),
    };

    private (PairReader? Look, SolveFailure? Failure) AtFirst(double volts, PortSides sides)
    {
        (RestCoupling? coupling, SolveFailure? failure) = Coupling(volts);
        if (coupling is null)
            return (null, failure);
        Dictionary<int, PortSide> own = [];
        foreach (int i in Looked)
        {
            (PortSide? side, failure) = sides.Of(KindOf(i));
            if (side is null)
                return (null, failure);
            own[i] = side;
        }
        return (new()
        {
            Voice = voice,
            Volts = volts,
            Cells = AtFirstLook,
            Players = players,
            Hertz = one => voice.Oscillators[one].IdealHertz(volts),
            Response = (one, port) => own[one].FeltWaves[port],
            Brought = (one, other, port) => new(coupling.Brought(one, port, other, own[other].Sends)),
        }, null);
    }

    private (RestCoupling? Coupling, SolveFailure? Failure) Coupling(double volts)
    {
        PlayedVoice twin = voice.Twin();
        (RestState? state, SolveFailure? failure) = twin.Rest(volts);
        if (state is null)
            return (null, failure);
        RestCoupling? coupling = RestCoupling.At(twin, state, [.. players.Select(player => player.Shared)]);
        return (coupling, coupling is null ? new("what lies between the oscillators has no answer at rest", voice.Voice.Name, 0, 0) : null);
    }
}
