using Consort.Engine.Circuit.Wiring;
using Consort.Engine.Quantities;

namespace Consort.Engine.Pitch.Locking;

/// <summary>Puts together how one oscillator's period answers and what another brings, for pairs of a voice at one note.</summary>
internal sealed class PairReader
{
    // Of the largest swing that any net can bring: one that can bring less than this share is not looked at phase by phase.
    private const double Negligible = 1e-4;

    /// <summary>The voice that they are of.</summary>
    public required PlayedVoice Voice { get; init; }

    /// <summary>Keyboard voltage, V.</summary>
    public required double Volts { get; init; }

    /// <summary>Cells of a turn.</summary>
    public required int Cells { get; init; }

    /// <summary>Its oscillators.</summary>
    public required IReadOnlyList<LockPlayer> Players { get; init; }

    /// <summary>By oscillator: its frequency, Hz.</summary>
    public required Func<int, double> Hertz { get; init; }

    /// <summary>By oscillator and place of a net that it shares: by which share its period grows for one unit of what can be brought there, by cell.</summary>
    public required Func<int, int, TurnWave> Response { get; init; }

    /// <summary>By oscillator, another one, and place of a net that the first shares: what the other brings there, by cell of its turn: A out of it, or V.</summary>
    public required Func<int, int, int, TurnWave> Brought { get; init; }

    /// <summary>The ratio that two oscillators are to stand near; null where none is looked at.</summary>
    public static Ratio? RatioOf(PlayedVoice voice, int first, int second) => Ratio.Of(Stands(voice, first, second));

    private static double Stands(PlayedVoice voice, int first, int second) => voice.Oscillators[second].Member.StandsCents - voice.Oscillators[first].Member.StandsCents;

    /// <summary>The range of a pair that is to stand near a ratio.</summary>
    public PairLock Read(int first, int second)
    {
        double stands = Stands(Voice, first, second);
        Ratio ratio = Ratio.Of(stands)!.Value;
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
            Voice.Oscillators[first].Name,
            Voice.Oscillators[second].Name,
            Volts,
            Hertz(first),
            stands - ratio.Cents,
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
            paths[path] = sum = new double[cents.Length];
        for (int i = 0; i < sum.Length; i++)
            sum[i] += sign * cents[from(i)];
    }

    // How one's pitch moves, by path and by the other's phase ahead of its own, cents; so many periods of the other go with so
    // many of its own. Of nets through which next to nothing can come only the mean is taken.
    private IEnumerable<(CouplingPath Path, double[] Cents)> Felt(int one, int other, int others, int own)
    {
        Meeting[] all = [.. Players[one].Shared.Select((net, port) => new Meeting(CouplingPaths.Of(Voice.Voice, net), Response(one, port), Brought(one, other, port)))];
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
    private sealed record Meeting(CouplingPath Path, TurnWave Response, TurnWave Brought)
    {
        public double Reach { get; } = LockCurve.Reach(Response, Brought);
    }
}
