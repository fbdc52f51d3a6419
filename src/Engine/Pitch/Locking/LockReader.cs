using System.Collections.Immutable;
using Consort.Engine.Circuit;
using Consort.Engine.Circuit.Motion;
using Consort.Engine.Circuit.Rest;

namespace Consort.Engine.Pitch.Locking;

/// <summary>
/// Lock ranges of all pairs near unison, or near another ratio of small whole numbers. Each oscillator is run twice: alone,
/// with its surroundings standing, for how its period answers to currents at its jacks, link and supply; and in the whole
/// voice with all others held, for what it brings to theirs. The product over one turn of phase is what a full run of both
/// would show, to the first order of what couples them.
/// </summary>
public sealed class LockReader
{
    private const int Cells = 1 << 16; // of a turn: half a microsecond at 32 Hz
    private const int Fewer = 8; // at a first look

    /// <summary>How closely what one brings to another is followed: it is microvolts beside volts.</summary>
    public static Accuracy Fine { get; } = new(1e-5);

    private readonly PlayedVoice voice;
    private readonly int threads;
    private readonly LockPlayer[] players;

    /// <summary>For a prepared voice.</summary>
    /// <param name="threads">How many may work; the result does not depend on it.</param>
    public LockReader(PlayedVoice voice, int threads)
    {
        (this.voice, this.threads) = (voice, threads);
        players = [.. voice.Oscillators.Select(oscillator => new LockPlayer(voice.Twin(Fine), oscillator))];
    }

    /// <summary>Largest share that an adjoint lost, of all that were read.</summary>
    public double Truncation { get; private set; }

    /// <summary>How many pairs are meant to stand near no ratio that is looked at.</summary>
    public int LeftOut => AllPairs.Length - NearPairs.Length;

    private (int First, int Second)[] AllPairs => [.. Enumerable.Range(0, players.Length).SelectMany(i => Enumerable.Range(i + 1, players.Length - i - 1).Select(j => (i, j)))];

    private (int First, int Second)[] NearPairs => [.. AllPairs.Where(pair => PairReader.RatioOf(voice, pair.First, pair.Second) is not null)];

    /// <summary>All pairs at one note.</summary>
    public (ImmutableArray<PairLock> Pairs, SolveFailure? Failure) At(double volts, CancellationToken cancel = default)
    {
        int[] all = [.. Enumerable.Range(0, players.Length)];
        if (Each(all, i => players[i].ReadResponse(volts, Cells) ?? players[i].ReadBrought(volts, Others(i, all)), cancel) is { } failed)
            return ([], failed);
        (int First, int Second)[] pairs = NearPairs;
        PairLock[] read = new PairLock[pairs.Length];
        PairReader reader = InFull(volts);
        ParallelWork.Each(pairs.Length, threads, k => read[k] = reader.Read(pairs[k].First, pairs[k].Second), cancel);
        return ([.. read], null);
    }

    /// <summary>The pair that locks over the widest range at one note: of all by a first look (<see cref="RestCoupling"/>), and
    /// that one in full. Neither pair nor failure when no two stand near a ratio.</summary>
    public (PairLock? Pair, SolveFailure? Failure) Widest(double volts, CancellationToken cancel = default)
    {
        (int First, int Second)[] pairs = NearPairs;
        if (pairs.Length == 0)
            return (null, null);
        if (Each([.. pairs.SelectMany(pair => (int[])[pair.First, pair.Second]).Distinct()], i => players[i].ReadResponse(volts, Cells), cancel) is { } failed)
            return (null, failed);
        (int first, int second) = pairs[0];
        if (pairs.Length > 1)
        {
            (PairReader? look, SolveFailure? failure) = AtFirst(volts);
            if (look is null)
                return (null, failure);
            double[] widths = new double[pairs.Length];
            ParallelWork.Each(pairs.Length, threads, k => widths[k] = look.Read(pairs[k].First, pairs[k].Second).Width, cancel);
            (first, second) = pairs[Array.IndexOf(widths, widths.Max())];
        }
        return Each([first, second], i => players[i].ReadBrought(volts, Others(i, [first, second])), cancel) is { } broken
            ? (null, broken)
            : (InFull(volts).Read(first, second), null);
    }

    private SolveFailure? Each(int[] some, Func<int, SolveFailure?> work, CancellationToken cancel)
    {
        SolveFailure?[] failures = new SolveFailure?[some.Length];
        ParallelWork.Each(some.Length, threads, k => failures[k] = work(some[k]), cancel);
        Truncation = Math.Max(Truncation, players.Max(player => player.Response?.Truncation ?? 0));
        return failures.FirstOrDefault(failure => failure is not null);
    }

    private Oscillator[] Others(int own, int[] among) => [.. among.Where(i => i != own).Select(i => voice.Oscillators[i])];

    private PairReader InFull(double volts) => new()
    {
        Voice = voice,
        Volts = volts,
        Cells = Cells,
        Players = players,
        Response = (one, port) => players[one].Response!.ByRow(port),
        Brought = (one, other, port) => players[other].Brings(voice.Oscillators[one]).Cells(port, Cells),
    };

    private (PairReader? Look, SolveFailure? Failure) AtFirst(double volts)
    {
        PlayedVoice twin = voice.Twin();
        (RestState? state, SolveFailure? failure) = twin.Rest(volts);
        if (state is null)
            return (null, failure);
        if (RestCoupling.At(twin, state, [.. players.Select(player => player.Shared)]) is not { } coupling)
            return (null, new("what lies between the oscillators has no answer at rest", voice.Voice.Name, 0, 0));
        double[][][] responses = ByPort((response, port) => PhaseGrid.Folded(response.ByRow(port), Fewer));
        double[][][] waves = ByPort((response, port) => response.Wave(port, Cells / Fewer));
        return (new()
        {
            Voice = voice,
            Volts = volts,
            Cells = Cells / Fewer,
            Players = players,
            Response = (one, port) => responses[one][port],
            Brought = (one, other, port) => coupling.Brought(one, port, other, waves[other]),
        }, null);
    }

    // Nothing for those that stand near no other.
    private double[][][] ByPort(Func<PhaseResponse, int, double[]> read) =>
        [.. players.Select(player => player.Response is { } response ? player.Shared.Select((_, port) => read(response, port)).ToArray() : [])];
}
