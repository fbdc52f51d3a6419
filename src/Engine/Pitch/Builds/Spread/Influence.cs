using System.Collections.Immutable;
using Consort.Engine.Pitch.Builds.Draws;
using Consort.Engine.Pitch.Builds.Lanes;

namespace Consort.Engine.Pitch.Builds.Spread;

/// <summary>
/// What each thing that varies brings to what trimming leaves: squared correlations, summed over notes with the notes'
/// variances as weights. For things that vary independently that is their first-order share of the variance as far as it
/// is linear (the squared standardised regression coefficient; Saltelli et al., Global Sensitivity Analysis, 2008, ch. 1.2,
/// from memory); what the shares leave of 1 belongs to bends and to things acting together.
/// </summary>
internal sealed class Influence
{
    private readonly VoiceBuilds builds;
    private readonly BuildJudge judge;
    private readonly int[] parameters; // the first of each variate
    private readonly Moments[] inputs;
    private readonly Moments[] tracking;
    private readonly Moments[] drift;
    private readonly Moments[] followers;
    private readonly double[][] trackingSums; // by parameter and target: Σ d·y
    private readonly double[][] driftSums;
    private readonly double[][] followerSums;
    private long count;

    public Influence(VoiceBuilds builds, BuildJudge judge)
    {
        (this.builds, this.judge) = (builds, judge);
        HashSet<int> seen = [];
        parameters =
        [
            .. Enumerable.Range(0, builds.Draws.Parameters.Length).Where(p => builds.Draws.Parameters[p].Terms.Any(term => seen.Add(term.Variate))),
        ];
        inputs = [.. parameters.Select(_ => new Moments())];
        tracking = [.. Targets(1).Select(_ => new Moments())];
        drift = [.. Targets(builds.Kelvins.Length - 1).Select(_ => new Moments())];
        followers = [.. Enumerable.Range(0, judge.Followers.Count * judge.Asked.Length * builds.Kelvins.Length).Select(_ => new Moments())];
        trackingSums = [.. parameters.Select(_ => new double[tracking.Length])];
        driftSums = [.. parameters.Select(_ => new double[drift.Length])];
        followerSums = [.. parameters.Select(_ => new double[followers.Length])];
    }

    private IEnumerable<int> Targets(int temperatures) => Enumerable.Range(0, builds.Laws.Length * judge.Asked.Length * temperatures);

    /// <summary>Takes one lane of a bench.</summary>
    /// <param name="bench">It.</param>
    /// <param name="lane">The lane.</param>
    /// <param name="drawn">Departures of a block: entry p·stride + build.</param>
    /// <param name="stride">Builds in the block.</param>
    /// <param name="build">The build's place in it.</param>
    public void Add<T>(BuildBench<T> bench, int lane, ReadOnlySpan<double> drawn, int stride, int build)
        where T : struct, ILanes<T>
    {
        Span<double> ofTracking = stackalloc double[tracking.Length];
        Span<double> ofDrift = stackalloc double[drift.Length];
        int t = 0;
        int d = 0;
        for (int o = 0; o < builds.Laws.Length; o++)
            foreach (int n in judge.Asked)
            {
                double own = bench.Cents(o, 0, n, lane);
                ofTracking[t++] = own;
                for (int k = 1; k < builds.Kelvins.Length; k++)
                    ofDrift[d++] = bench.Cents(o, k, n, lane) - own;
            }
        Span<double> ofFollowers = stackalloc double[followers.Length];
        int f = 0;
        foreach (int o in judge.Followers)
            foreach (int n in judge.Asked)
                for (int k = 0; k < builds.Kelvins.Length; k++)
                    ofFollowers[f++] = judge.Apart(bench, o, k, n, lane);
        if (!Finite(ofTracking) || !Finite(ofDrift))
            return;
        count++;
        Add(tracking, ofTracking);
        Add(drift, ofDrift);
        Add(followers, ofFollowers);
        for (int p = 0; p < parameters.Length; p++)
        {
            double departure = drawn[parameters[p] * stride + build];
            inputs[p].Add(departure);
            AddScaled(trackingSums[p], ofTracking, departure);
            AddScaled(driftSums[p], ofDrift, departure);
            AddScaled(followerSums[p], ofFollowers, departure);
        }
    }

    private static void Add(Moments[] targets, ReadOnlySpan<double> values)
    {
        for (int i = 0; i < targets.Length; i++)
            targets[i].Add(values[i]);
    }

    /// <summary>Takes all of another's builds.</summary>
    public void Join(Influence other)
    {
        count += other.count;
        Join(tracking, other.tracking);
        Join(drift, other.drift);
        Join(followers, other.followers);
        Join(inputs, other.inputs);
        for (int p = 0; p < parameters.Length; p++)
        {
            AddScaled(trackingSums[p], other.trackingSums[p], 1);
            AddScaled(driftSums[p], other.driftSums[p], 1);
            AddScaled(followerSums[p], other.followerSums[p], 1);
        }
    }

    private static void Join(Moments[] own, Moments[] other)
    {
        for (int i = 0; i < own.Length; i++)
            own[i].Join(other[i]);
    }

    private static bool Finite(ReadOnlySpan<double> values)
    {
        foreach (double value in values)
            if (!double.IsFinite(value))
                return false;
        return true;
    }

    private static void AddScaled(double[] sums, ReadOnlySpan<double> values, double factor)
    {
        for (int i = 0; i < sums.Length; i++)
            sums[i] += factor * values[i];
    }

    /// <summary>The shares, the largest first; what is below twice its own error is left out.</summary>
    public ImmutableArray<PartShare> Shares() =>
        count < 2 ? [] : [.. parameters.Select((_, p) => Share(p)).Where(IsSeen).OrderByDescending(share => share.Largest)];

    private static bool IsSeen(PartShare share) => share.Largest > Math.Max(0.003, 2 * share.Error);

    private PartShare Share(int p)
    {
        DrawnParameter drawn = builds.Draws.Parameters[parameters[p]];
        double ofTracking = Share(p, trackingSums[p], tracking);
        double ofDrift = Share(p, driftSums[p], drift);
        double ofFollowers = Share(p, followerSums[p], followers);
        double largest = Math.Max(ofTracking, Math.Max(ofDrift, ofFollowers));
        // Of a squared correlation r² from n pairs: 2·r·(1 − r²)/√n, and 1/n when there is none.
        double error = Math.Max(2 * Math.Sqrt(largest) * (1 - largest) / Math.Sqrt(count), 1.0 / count);
        string what = drawn.Move == MoveKind.Share && drawn.Word == "value" ? "tolerance" : drawn.Word == "tempco" ? "drift" : drawn.Word;
        return new(drawn.Part.Name, what, ofTracking, ofDrift, ofFollowers, error);
    }

    private double Share(int p, double[] sums, Moments[] targets)
    {
        double explained = 0;
        double whole = 0;
        double mean = inputs[p].Mean;
        for (int i = 0; i < targets.Length; i++)
        {
            double covariance = (sums[i] - count * mean * targets[i].Mean) / (count - 1);
            explained += covariance * covariance / inputs[p].Variance;
            whole += targets[i].Variance;
        }
        return whole > 0 ? Math.Max(0, explained / whole - 1.0 / count) : 0;
    }
}
