using Consort.Engine.Circuit;
using Consort.Engine.Pitch.Builds.Draws;
using Consort.Engine.Pitch.Builds.Lanes;

namespace Consort.Engine.Pitch.Builds.Spread;

/// <summary>Solves a sample of trimmed builds again as whole circuits in full transients.</summary>
internal sealed class SpreadCheck(VoiceBuilds builds, UnitPoints points, int threads)
{
    /// <summary>The largest disagreement over all oscillators of the first four builds, each at one of the temperatures in turn and
    /// at the lowest and highest note that is asked.</summary>
    public (AccuracyNote? Note, SolveFailure? Failure) Run()
    {
        BuildBench<Four> bench = new(builds);
        double[] drawn = new double[builds.Draws.Parameters.Length * Four.Count];
        builds.Draws.Departures(points, 0, Four.Count, drawn);
        bench.Run(drawn, Four.Count, 0);
        int[] asked = new BuildJudge(builds).Asked;
        int[] notes = [asked[0], asked[^1]];
        int oscillators = builds.Laws.Length;
        (double Worst, SolveFailure? Failure)[] found = new (double, SolveFailure?)[Four.Count * oscillators];
        ParallelWork.Each(found.Length, threads, i => found[i] = Compare(bench, i / oscillators, i % oscillators, notes), builds.Voice.Cancel);
        if (found.Select(f => f.Failure).FirstOrDefault(f => f is not null) is { } failure)
            return (null, failure);
        string against = $"{found.Length * notes.Length} readings of {Four.Count} builds as whole circuits in full transients, trimmed alike, at all temperatures";
        return (new("trimmed builds by pitch path and core law", found.Max(f => f.Worst), "cents", against), null);
    }

    private (double Worst, SolveFailure? Failure) Compare(BuildBench<Four> bench, int lane, int o, int[] notes)
    {
        int k = (lane + o) % builds.Kelvins.Length;
        PlayedVoice built = BuiltVoice.Make(builds.Voice, builds.AllDraws, points, lane, builds.Paths.Trimmers, bench.PositionsOf(lane));
        (double[] cents, SolveFailure? failure) = BuiltVoice.Read(built, o, builds.Kelvins[k], [.. notes.Select(n => builds.Volts[n])]);
        return failure is null ? (notes.Select((n, i) => Math.Abs(cents[i] - bench.Cents(o, k, n, lane))).Max(), null) : (double.NaN, failure);
    }
}
