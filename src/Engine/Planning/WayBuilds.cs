using Consort.Engine.Circuit;
using Consort.Engine.Design;
using Consort.Engine.Pitch;
using Consort.Engine.Pitch.Builds;
using Consort.Engine.Pitch.Builds.Cores;
using Consort.Engine.Pitch.Builds.Spread;

namespace Consort.Engine.Planning;

/// <summary>What builds of a voice wired one way do.</summary>
/// <param name="Yield">Share of them that keep the voice's limits of tracking, drift and followers; null when it could not be computed.</param>
/// <param name="Why">Why not; empty when it was.</param>
public sealed record WayBuilds(YieldInterval? Yield, string Why)
{
    /// <summary>Makes and trims builds of a voice wired in several ways, and reads them over the octaves that are asked, at all
    /// three temperatures. The core of a module in its place of a link is surveyed in one way, that which tracks best, and serves
    /// the others where nothing outside the module acts in it: its pitch, and what reaches its timing current, are read in each.</summary>
    /// <param name="ways">Prepared, and trimmed in place.</param>
    /// <param name="request">How many builds, of which seed and shelf.</param>
    /// <param name="threads">How many may work; the result does not depend on it.</param>
    /// <param name="done">Told after each way.</param>
    /// <param name="cancel">Stops it.</param>
    internal static WayBuilds[] Of(IReadOnlyList<TrimmedWay> ways, SpreadRequest request, int threads, Action<int> done, CancellationToken cancel)
    {
        (CoreLaws? Cores, SolveFailure? Failure)[] opened = new (CoreLaws?, SolveFailure?)[ways.Count];
        ParallelWork.Each(ways.Count, threads, w => opened[w] = Open(ways[w], request), cancel);
        Dictionary<string, (KnownCore? Core, SolveFailure? Failure)> known = Survey(ways, [.. opened.Select(one => one.Cores)], threads, cancel);
        WayBuilds[] made = new WayBuilds[ways.Count];
        ParallelWork.Each(ways.Count, threads, w =>
        {
            made[w] = opened[w].Cores is { } cores ? Spread(cores, known, request, cancel) : new(null, $"{opened[w].Failure}");
            done(w);
        }, cancel);
        return made;
    }

    private static (CoreLaws? Cores, SolveFailure? Failure) Open(TrimmedWay way, SpreadRequest request)
    {
        Limits limits = way.Played.Voice.Limits;
        DesignReadings readings = new(way.Played, [Prover.BenchKelvin, limits.ColdKelvin, limits.WarmKelvin], way.Curves[0].Points.Select(point => point.ControlVolts)) { AlikeDrift = true };
        for (int o = 0; o < way.Curves.Length; o++)
            readings.Take(o, way.Curves[o]);
        return VoiceBuilds.Cores(way.Played, request.Stock, readings, 1);
    }

    private static Dictionary<string, (KnownCore?, SolveFailure?)> Survey(IReadOnlyList<TrimmedWay> ways, CoreLaws?[] opened, int threads, CancellationToken cancel)
    {
        (string Kind, CoreLaws Cores, int Oscillator)[] chosen =
        [
            .. from w in Enumerable.Range(0, opened.Length)
               where opened[w] is not null
               orderby ways[w].WorstCents, w
               from o in Enumerable.Range(0, ways[w].Played.Oscillators.Length)
               group (opened[w]!.Kind(o), opened[w]!, o) by opened[w]!.Kind(o) into alike
               select alike.First(),
        ];
        (KnownCore?, SolveFailure?)[] surveyed = new (KnownCore?, SolveFailure?)[chosen.Length];
        ParallelWork.Each(chosen.Length, threads, i => surveyed[i] = chosen[i].Cores.Survey(chosen[i].Oscillator), cancel);
        return chosen.Select((one, i) => (one.Kind, surveyed[i])).ToDictionary();
    }

    private static WayBuilds Spread(CoreLaws cores, Dictionary<string, (KnownCore? Core, SolveFailure? Failure)> known, SpreadRequest request, CancellationToken cancel)
    {
        KnownCore[] mine = new KnownCore[cores.Voice.Oscillators.Length];
        for (int o = 0; o < mine.Length; o++)
        {
            (KnownCore? core, SolveFailure? failure) = known[cores.Kind(o)];
            if (core is not null && !cores.Serves(core, o))
                (core, failure) = cores.Survey(o);
            if (core is null)
                return new(null, $"{failure}");
            mine[o] = core;
        }
        VoiceBuilds builds = VoiceBuilds.Of(cores, cores.By(o => mine[o]));
        return new(new SpreadStudy(builds, request).Run(1, null, cancel).Yield, "");
    }
}
