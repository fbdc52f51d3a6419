using Consort.Engine.Circuit;
using Consort.Engine.Pitch;
using Consort.Engine.Pitch.Builds.Spread;

namespace Consort.Engine.Planning;

/// <summary>A way with all that is read of it by itself, or why not.</summary>
internal sealed record WeighedWay(Alternative? Found, TrimmedWay? Way, SolveFailure? Failure);

/// <summary>
/// In which order the ways of a plan are worked on. Each is read by itself, and what its builds need is found as soon as it is
/// read, while others are still being read. Lock ranges and builds wait for all ways, and within for each other now and then:
/// side by side each fills the other's gaps. With one thread all is done in turn.
/// </summary>
/// <param name="threads">How many may work; the result does not depend on it.</param>
/// <param name="done">Told a way's place whenever one of its parts is done.</param>
/// <param name="cancel">Stops it.</param>
internal sealed class WayWork(int threads, Action<int> done, CancellationToken cancel)
{
    private readonly TaskFactory queue = ParallelWork.Queue(threads, cancel);

    /// <summary>Builds of each way that are to be made; null for none.</summary>
    public SpreadRequest? Spread { get; init; }

    /// <summary>True when lock ranges are to be read.</summary>
    public bool Locks { get; init; }

    /// <summary>All ways in their order, with what was asked for; without it when one of them could not be read.</summary>
    public async Task<(WeighedWay[] Ways, WayLock[]? Locks, WayBuilds[]? Builds)> Run(IEnumerable<Func<WeighedWay>> read)
    {
        Task<WeighedWay>[] weighed = [.. read.Select((weigh, i) => queue.StartNew(() => Told(i, weigh())))];
        Task<WayLock[]?> locks = Lock(weighed);
        Task<WayBuilds[]?> builds = Build(weighed);
        await Task.WhenAll(locks, builds);
        return (await Task.WhenAll(weighed), await locks, await builds);
    }

    private TaskFactory Beside => threads > 1 ? new(cancel) : queue;

    private WeighedWay Told(int way, WeighedWay weighed)
    {
        done(way);
        return weighed;
    }

    private async Task<WayLock[]?> Lock(Task<WeighedWay>[] weighed)
    {
        TrimmedWay?[] ways = [.. (await Task.WhenAll(weighed)).Select(one => one.Way)];
        return Locks && !ways.Contains(null) ? await Beside.StartNew(() => WayLock.Of([.. ways.Select(way => way!)], threads, done, cancel)) : null;
    }

    private async Task<WayBuilds[]?> Build(Task<WeighedWay>[] weighed)
    {
        if (Spread is not { } spread)
            return null;
        OpenWay?[] opened = await Task.WhenAll(weighed.Select(async one => (await one).Way is { } way ? await queue.StartNew(() => OpenWay.Of(way, spread)) : null));
        return opened.Contains(null) ? null : await Beside.StartNew(() => WayBuilds.Of([.. opened.Select(way => way!)], spread, threads, done, cancel));
    }
}
