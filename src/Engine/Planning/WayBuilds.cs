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
    /// <param name="opened">The ways, trimmed in place.</param>
    /// <param name="request">How many builds, of which seed and shelf.</param>
    /// <param name="threads">How many may work; the result does not depend on it.</param>
    /// <param name="done">Told after each way.</param>
    /// <param name="cancel">Stops it.</param>
    internal static WayBuilds[] Of(OpenWay[] opened, SpreadRequest request, int threads, Action<int> done, CancellationToken cancel)
    {
        (int Way, int Oscillator)[] ofModules = Firsts(opened, (way, o) => way.Module(o));
        Drift(opened, ofModules, threads, cancel);
        Dictionary<string, (KnownCore? Core, SolveFailure? Failure)> known = Survey(opened, ofModules, Firsts(opened, (way, o) => way.Kind(o)), threads, cancel);
        WayBuilds[] made = new WayBuilds[opened.Length];
        ParallelWork.Each(opened.Length, threads, w =>
        {
            made[w] = opened[w].Cores is { } cores ? Spread(cores, known, request, cancel) : new(null, $"{opened[w].Failure}");
            done(w);
        }, cancel);
        return made;
    }

    // Of those that have something in common the one in the way that tracks best.
    private static (int Way, int Oscillator)[] Firsts(OpenWay[] opened, Func<OpenWay, int, string> kind) =>
        [
            .. from w in Enumerable.Range(0, opened.Length)
               where opened[w].Failure is null
               orderby opened[w].WorstCents, w
               from o in Enumerable.Range(0, opened[w].Oscillators)
               group (w, o) by kind(opened[w], o) into alike
               select alike.First(),
        ];

    // What temperature does to a core is read of the first of each module, and serves the others beside what it does to their own
    // timing currents.
    private static void Drift(OpenWay[] opened, (int Way, int Oscillator)[] firsts, int threads, CancellationToken cancel)
    {
        (int First, int Kelvin)[] parts = [.. firsts.SelectMany((_, i) => Enumerable.Range(1, OpenWay.Kelvins - 1).Select(k => (i, k)))];
        ParallelWork.Each(parts.Length, threads, p => opened[firsts[parts[p].First].Way].ReadDrift(firsts[parts[p].First].Oscillator, parts[p].Kelvin), cancel);
        Dictionary<string, (OpenWay Way, int Oscillator)> byModule = firsts.ToDictionary(first => opened[first.Way].Module(first.Oscillator), first => (opened[first.Way], first.Oscillator));
        ParallelWork.Each(opened.Length, threads, w => opened[w].TakeDrift(module => byModule[module]), cancel);
    }

    // By kind: the first of each module is surveyed, and in another place of a link another only where that one does not tell of it.
    private static Dictionary<string, (KnownCore? Core, SolveFailure? Failure)> Survey(
        OpenWay[] opened,
        (int Way, int Oscillator)[] ofModules,
        (int Way, int Oscillator)[] ofKinds,
        int threads,
        CancellationToken cancel
    )
    {
        (KnownCore? Core, SolveFailure? Failure)[] surveyed = Each(ofModules, at => opened[at.Way].Survey(at.Oscillator));
        (KnownCore? Core, SolveFailure? Failure)[] known = Each(ofKinds, at =>
        {
            OpenWay way = opened[at.Way];
            int module = Array.FindIndex(ofModules, first => opened[first.Way].Module(first.Oscillator) == way.Module(at.Oscillator));
            bool isTold = ofModules[module] == at || (surveyed[module].Core is { } core && way.IsToldBy(core, at.Oscillator));
            return isTold ? surveyed[module] : way.Survey(at.Oscillator);
        });
        return ofKinds.Select((first, i) => (opened[first.Way].Kind(first.Oscillator), known[i])).ToDictionary();

        (KnownCore?, SolveFailure?)[] Each((int Way, int Oscillator)[] firsts, Func<(int Way, int Oscillator), (KnownCore?, SolveFailure?)> read)
        {
            (KnownCore?, SolveFailure?)[] all = new (KnownCore?, SolveFailure?)[firsts.Length];
            ParallelWork.Each(all.Length, threads, i => all[i] = read(firsts[i]), cancel);
            return all;
        }
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
        return new(new SpreadStudy(builds, request).Yield(cancel), "");
    }
}
