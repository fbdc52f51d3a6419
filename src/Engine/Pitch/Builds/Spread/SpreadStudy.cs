using System.Collections.Immutable;
using Consort.Engine.Pitch.Builds.Draws;
using Consort.Engine.Pitch.Builds.Lanes;
using Consort.Engine.Pitch.Builds.Trimming;
using Consort.Engine.Quantities;

namespace Consort.Engine.Pitch.Builds.Spread;

/// <summary>Makes, trims and reads thousands of builds of a voice, four at a time on every thread. The same request gives the
/// same bits at any number of threads, and memory does not grow with the number of builds.</summary>
internal sealed class SpreadStudy
{
    private const int Block = 256; // builds
    private const int Bins = 48; // of a limit's histogram
    private const int ForShares = 16; // blocks: parts' shares are taken from the first 4096 builds

    private readonly VoiceBuilds builds;
    private readonly BuildJudge judge;
    private readonly SobolPoints points;
    private readonly SpreadRequest request;
    private readonly Influence influence;
    private readonly SpreadTally tally;
    private BuildBench<Four>[]? benches;
    private int done; // blocks

    public SpreadStudy(VoiceBuilds builds, SpreadRequest request)
    {
        (this.builds, this.request, judge) = (builds, request, new(builds));
        points = Points(builds, request.Seed);
        influence = new(builds, judge);
        tally = new(builds, judge);
    }

    /// <summary>Benches to work on, one for each thread; null makes them.</summary>
    public BuildBench<Four>[]? Benches
    {
        init => benches = value;
    }

    /// <summary>The points that a seed stands for.</summary>
    public static SobolPoints Points(VoiceBuilds builds, ulong seed) => SobolPoints.Scrambled(builds.Draws.Variates.Length, seed);

    /// <summary>Runs to the end.</summary>
    /// <param name="threads">How many may work.</param>
    /// <param name="progress">Told the share that is done.</param>
    /// <param name="cancel">Looked at between blocks.</param>
    public SpreadResult Run(int threads, Action<double>? progress = null, CancellationToken cancel = default) => To(request.Builds, threads, progress, cancel);

    /// <summary>Goes on from where it stands; what it comes to are the same bits as in one run.</summary>
    /// <param name="builds">How far: whole blocks, or all that were asked for.</param>
    /// <param name="threads">How many may work.</param>
    /// <param name="progress">Told the share of that which is done.</param>
    /// <param name="cancel">Looked at between blocks.</param>
    public SpreadResult To(int builds, int threads, Action<double>? progress = null, CancellationToken cancel = default)
    {
        int blocks = (builds + Block - 1) / Block;
        benches ??= [.. Enumerable.Range(0, threads).Select(_ => new BuildBench<Four>(this.builds))];
        (SpreadTally Tally, Influence? Influence)[] parts = new (SpreadTally, Influence?)[4 * threads];
        double[][] drawn = [.. parts.Select(_ => new double[this.builds.Draws.Parameters.Length * Block])];
        while (done < blocks)
        {
            int count = Math.Min(parts.Length, blocks - done);
            ParallelWork.Share(
                count,
                threads,
                (thread, i) =>
                {
                    if (!cancel.IsCancellationRequested)
                        parts[i] = RunBlock(benches[thread], drawn[i], done + i);
                }
            );
            cancel.ThrowIfCancellationRequested();
            for (int i = 0; i < count; i++)
                Join(parts[i].Tally, parts[i].Influence);
            done += count;
            progress?.Invoke((double)done / blocks);
        }
        return Result();
    }

    private void Join(SpreadTally next, Influence? nextInfluence)
    {
        tally.Join(next);
        if (nextInfluence is not null)
            influence.Join(nextInfluence);
    }

    private (SpreadTally Tally, Influence? Influence) RunBlock(BuildBench<Four> bench, double[] drawn, int block)
    {
        SpreadTally own = new(builds, judge);
        Influence? shares = block < ForShares ? new(builds, judge) : null;
        (long number, int count) = Draw(block, drawn);
        for (int first = 0; first < count; first += Four.Count)
        {
            bench.Run(drawn, Block, first);
            bench.WarmUp();
            for (int lane = 0; lane < Four.Count && first + lane < count; lane++)
            {
                own.Add(bench, lane, number + first + lane);
                shares?.Add(bench, lane, drawn, Block, first + lane);
            }
        }
        return (own, shares);
    }

    // The departures of a block's builds, the number of its first, and how many of them are asked for.
    private (long Number, int Count) Draw(int block, double[] drawn)
    {
        long number = (long)block * Block;
        builds.Draws.Departures(points, number, Block, drawn);
        return (number, (int)Math.Min(Block, request.Builds - number));
    }

    /// <summary>The share of the builds that keep all limits, and nothing else of them: the same builds and the same share as in a
    /// whole run, on one thread.</summary>
    /// <param name="cancel">Looked at between blocks.</param>
    public YieldInterval Yield(CancellationToken cancel = default)
    {
        BuildBench<Four> bench = new(builds);
        double[] drawn = new double[builds.Draws.Parameters.Length * Block];
        long passed = 0;
        for (int block = 0; block * Block < request.Builds; block++)
        {
            cancel.ThrowIfCancellationRequested();
            int count = Draw(block, drawn).Count;
            for (int first = 0; first < count; first += Four.Count)
                passed += Passed(bench, drawn, first, Math.Min(Four.Count, count - first));
        }
        return new(passed, request.Builds);
    }

    // Where none of them tracks, the other temperatures are of no interest.
    private int Passed(BuildBench<Four> bench, double[] drawn, int first, int lanes)
    {
        bench.Begin(drawn, Block, first);
        int[] tracking = [.. Enumerable.Range(0, lanes).Where(lane => judge.Tracks(bench, lane))];
        if (tracking.Length == 0)
            return 0;
        bench.Finish();
        return tracking.Count(lane => judge.Passes(bench, lane));
    }

    private SpreadResult Result() =>
        new(
            tally.Count,
            points.Name,
            request.Seed,
            new(tally.Passed, tally.Count),
            builds.Voice.Voice.Limits.Yield,
            [.. Figures()],
            [.. Bands()],
            [.. Trimmers()],
            [.. Wanders()],
            influence.Shares(),
            [.. tally.Worst.Select(Worst)]
        )
        {
            Lag = tally.Lag.Kept == 0 ? null : new(judge.Limits.WarmUpGradient, tally.Lag.Sizes.Quantile(0.5), tally.Lag.Sizes.Quantile(0.95), tally.Lag.Worst),
        };

    private IEnumerable<SpreadFigure> Figures()
    {
        yield return Figure("tracking", "worst pitch error, trimmed, 25 °C", judge.Limits.TrackingCents, tally.Tracking);
        yield return Figure("drift", "largest move of any note with temperature", judge.Limits.DriftCents, tally.Drift);
        if (judge.Followers.Count > 0)
            yield return Figure("followers", "worst follower against its lead, all temperatures", judge.Limits.FollowerCents, tally.Follower);
    }

    private SpreadFigure Figure(string key, string title, double limit, SpreadTally.Line line) =>
        new(key, title, limit, new(line.Kept, tally.Count), line.Sizes.Quantile(0.5), line.Sizes.Quantile(0.95), line.Worst)
        {
            BinsTo = Reach(limit, line),
            Bins = [.. line.Sizes.InSteps(Bins, Reach(limit, line))],
        };

    // Far enough to show 999 of 1000 builds, and the limit where it is not far beyond them; of a limit that most builds miss by
    // far, 19 of 20.
    private static double Reach(double limit, SpreadTally.Line line)
    {
        double most = line.Sizes.Quantile(0.999);
        return 2.5 * most >= limit ? Math.Min(Math.Max(1.15 * limit, 1.05 * most), Math.Max(4 * limit, 1.05 * line.Sizes.Quantile(0.95))) : Math.Max(1.15 * most, 1e-3);
    }

    private IEnumerable<SpreadBand> Bands() =>
        from o in Enumerable.Range(0, builds.Laws.Length)
        from k in Enumerable.Range(0, builds.Kelvins.Length)
        let notes = tally.Notes[o][k]
        select new SpreadBand(
            builds.Voice.Oscillators[o].Name,
            builds.Kelvins[k],
            [.. builds.Volts],
            [.. notes.Select(moments => moments.Mean)],
            [.. notes.Select(moments => moments.Deviation)]
        );

    private IEnumerable<TrimmerUse> Trimmers() =>
        from o in Enumerable.Range(0, builds.Sheets.Length)
        from step in Enumerable.Range(0, builds.Sheets[o].Count)
        select Use(o, step);

    private TrimmerUse Use(int o, int step)
    {
        TrimSheet sheet = builds.Sheets[o];
        (Histogram stands, Histogram missing) = (tally.Positions[o][step], tally.Missing[o][step]);
        double slope = sheet.Slopes[step * sheet.Count + step];
        return new(
            builds.Voice.Oscillators[o].Name,
            sheet.Steps[step].Trimmer,
            sheet.Steps[step].Purpose,
            sheet.Start[step],
            stands.Quantile(0.05),
            stands.Quantile(0.5),
            stands.Quantile(0.95),
            new(missing.Count, tally.Count),
            missing.Count == 0 ? 0 : missing.Quantile(0.5),
            slope / (360 * sheet.Turns[step]),
            Math.Abs(slope) * sheet.Resolution[step]
        );
    }

    private IEnumerable<FollowerWander> Wanders() =>
        from f in Enumerable.Range(0, judge.Followers.Count)
        from n in Enumerable.Range(0, builds.Volts.Length)
        let oscillator = builds.Voice.Oscillators[judge.Followers[f]]
        let hertz = oscillator.IdealHertz(builds.Volts[n])
        let most = tally.Wanders[f][n].Quantile(0.95)
        select new FollowerWander(oscillator.Name, builds.Volts[n], hertz, tally.Wanders[f][n].Quantile(0.5), most, hertz * (Math.Pow(2, most / 1200) - 1));

    private WorstBuild Worst((long Number, BuildScore Score) kept) =>
        new(
            kept.Number,
            kept.Score.Tracking,
            kept.Score.Drift,
            kept.Score.Follower,
            $"{builds.Voice.Oscillators[kept.Score.TrackingAt.Oscillator].Name} at {builds.Volts[kept.Score.TrackingAt.Note]:G3} V"
        );
}
