using Consort.Engine.Design;
using Consort.Engine.Pitch.Builds.Lanes;
using Consort.Engine.Pitch.Builds.Trimming;

namespace Consort.Engine.Pitch.Builds.Spread;

/// <summary>Statistics of builds as they come. Tallies of blocks of builds are joined in the blocks' order, so that nothing
/// depends on who made which.</summary>
internal sealed class SpreadTally
{
    private const int MostKept = 5;

    private readonly VoiceBuilds builds;
    private readonly BuildJudge judge;
    private readonly List<(long Number, BuildScore Score)> worst = [];

    public SpreadTally(VoiceBuilds builds, BuildJudge judge)
    {
        (this.builds, this.judge) = (builds, judge);
        Notes = [.. builds.Laws.Select(_ => builds.Kelvins.Select(_ => Make(builds.Volts.Length, () => new Moments())).ToArray())];
        Positions = [.. builds.Sheets.Select(sheet => Make(sheet.Count, Histogram.OfShares))];
        Missing = [.. builds.Sheets.Select(sheet => Make(sheet.Count, Histogram.OfSizes))];
        Wanders = [.. judge.Followers.Select(_ => Make(builds.Volts.Length, Histogram.OfSizes))];
        (Tracking, Drift, Follower, Lag) = (new(), new(), new(), new());
    }

    private static T[] Make<T>(int count, Func<T> make) => [.. Enumerable.Range(0, count).Select(_ => make())];

    /// <summary>One limit's figures.</summary>
    internal sealed class Line
    {
        public Histogram Sizes { get; } = Histogram.OfSizes();
        public long Kept { get; private set; }
        public double Worst { get; private set; }

        public void Add(double cents, double limit)
        {
            Sizes.Add(cents);
            Kept += cents <= limit ? 1 : 0;
            Worst = Math.Max(Worst, cents);
        }

        public void Join(Line other)
        {
            Sizes.Join(other.Sizes);
            Kept += other.Kept;
            Worst = Math.Max(Worst, other.Worst);
        }
    }

    /// <summary>Builds so far.</summary>
    public long Count { get; private set; }

    /// <summary>Of them, those that keep every limit.</summary>
    public long Passed { get; private set; }

    /// <summary>Worst tracking error of each build.</summary>
    public Line Tracking { get; }

    /// <summary>Largest move of each build.</summary>
    public Line Drift { get; }

    /// <summary>Worst follower of each build.</summary>
    public Line Follower { get; }

    /// <summary>Largest move of each build while it warms up.</summary>
    public Line Lag { get; }

    /// <summary>Pitch errors by oscillator, temperature and note.</summary>
    public Moments[][][] Notes { get; }

    /// <summary>Where trimmers stand, by oscillator and step.</summary>
    public Histogram[][] Positions { get; }

    /// <summary>What is left to trim where a trimmer came to its end, by oscillator and step.</summary>
    public Histogram[][] Missing { get; }

    /// <summary>Followers against their lead, by follower and note.</summary>
    public Histogram[][] Wanders { get; }

    /// <summary>The worst builds, the very worst first.</summary>
    public IReadOnlyList<(long Number, BuildScore Score)> Worst => worst;

    /// <summary>Takes one lane of a bench.</summary>
    public void Add<T>(BuildBench<T> bench, int lane, long number)
        where T : struct, ILanes<T>
    {
        BuildScore score = judge.Score(bench, lane);
        Limits limits = judge.Limits;
        Count++;
        Passed += score.Keeps(limits) ? 1 : 0;
        Tracking.Add(score.Tracking, limits.TrackingCents);
        Drift.Add(score.Drift, limits.DriftCents);
        if (judge.Followers.Count > 0)
            Follower.Add(score.Follower, limits.FollowerCents);
        if (bench.Lags)
            Lag.Add(judge.Lag(bench, lane), double.PositiveInfinity);
        for (int o = 0; o < Notes.Length; o++)
        {
            AddNotes(bench, lane, o);
            AddTrimmers(bench, lane, o);
        }
        for (int f = 0; f < Wanders.Length; f++)
            for (int n = 0; n < Wanders[f].Length; n++)
                Wanders[f][n].Add(judge.Wander(bench, judge.Followers[f], n, lane));
        Keep(number, score);
    }

    private void AddNotes<T>(BuildBench<T> bench, int lane, int o)
        where T : struct, ILanes<T>
    {
        for (int k = 0; k < Notes[o].Length; k++)
            for (int n = 0; n < Notes[o][k].Length; n++)
                if (bench.Cents(o, k, n, lane) is var cents && double.IsFinite(cents))
                    Notes[o][k][n].Add(cents);
    }

    private void AddTrimmers<T>(BuildBench<T> bench, int lane, int o)
        where T : struct, ILanes<T>
    {
        TrimSheet sheet = builds.Sheets[o];
        for (int step = 0; step < sheet.Count; step++)
        {
            Positions[o][step].Add(bench.Trimmers[o].Position(lane, step));
            if (!bench.Trimmers[o].IsStuck(lane, step))
                continue;
            double left = bench.Cents(o, 0, sheet.HighNotes[step], lane);
            if (sheet.LowNotes[step] >= 0)
                left -= bench.Cents(o, 0, sheet.LowNotes[step], lane);
            Missing[o][step].Add(Math.Abs(left));
        }
    }

    private void Keep(long number, BuildScore score)
    {
        double size = score.Against(judge.Limits);
        int place = worst.FindIndex(kept => kept.Score.Against(judge.Limits) < size);
        if (place < 0 && worst.Count >= MostKept)
            return;
        worst.Insert(place < 0 ? worst.Count : place, (number, score));
        if (worst.Count > MostKept)
            worst.RemoveAt(MostKept);
    }

    /// <summary>Takes all of the tally of the builds that come next.</summary>
    public void Join(SpreadTally other)
    {
        (Count, Passed) = (Count + other.Count, Passed + other.Passed);
        Tracking.Join(other.Tracking);
        Drift.Join(other.Drift);
        Follower.Join(other.Follower);
        Lag.Join(other.Lag);
        for (int o = 0; o < Notes.Length; o++)
        {
            for (int k = 0; k < Notes[o].Length; k++)
                for (int n = 0; n < Notes[o][k].Length; n++)
                    Notes[o][k][n].Join(other.Notes[o][k][n]);
            for (int step = 0; step < Positions[o].Length; step++)
            {
                Positions[o][step].Join(other.Positions[o][step]);
                Missing[o][step].Join(other.Missing[o][step]);
            }
        }
        for (int f = 0; f < Wanders.Length; f++)
            for (int n = 0; n < Wanders[f].Length; n++)
                Wanders[f][n].Join(other.Wanders[f][n]);
        foreach ((long number, BuildScore score) in other.worst)
            Keep(number, score);
    }
}
