using Consort.Engine.Circuit;
using Consort.Engine.Pitch;
using Consort.Engine.Pitch.Builds;
using Consort.Engine.Pitch.Builds.Draws;
using Consort.Engine.Pitch.Builds.Lanes;
using Consort.Engine.Pitch.Builds.Spread;

namespace Consort.Bench.Builds;

/// <summary>Trimmed builds by pitch path and core law against the same builds as whole circuits in full transients, octave by
/// octave.</summary>
internal static class BuildAgreement
{
    private const long First = 1000;

    public static void Run(Page page, string name, int count)
    {
        VoiceBuilds builds = BuildSpeed.Ready(name);
        count -= count % Four.Count;
        int oscillators = builds.Laws.Length;
        page.Heading($"{name}: {count} builds, {oscillators} oscillators in each, {builds.Kelvins.Length} temperatures");
        double[][] off = Differences(builds, count);
        page.Table(
            ["note", "Hz", "largest, cents", "root mean square", "over 0.1"],
            builds.Volts.Select((volts, n) => Row(builds, volts, off[n]))
        );
    }

    private static IReadOnlyList<string> Row(VoiceBuilds builds, double volts, double[] off) =>
        [
            $"{volts:0.##} V",
            $"{builds.Voice.Oscillators[0].IdealHertz(volts):0}",
            $"{off.Max():0.000}",
            $"{Math.Sqrt(off.Average(c => c * c)):0.0000}",
            $"{off.Count(c => c > 0.1)} of {off.Length}",
        ];

    // By note.
    private static double[][] Differences(VoiceBuilds builds, int count)
    {
        SobolPoints points = SpreadStudy.Points(builds, 1);
        double[] drawn = new double[builds.Draws.Parameters.Length * count];
        builds.Draws.Departures(points, First, count, drawn);
        double[][][] off = new double[count][][];
        Parallel.For(
            0,
            count / Four.Count,
            group =>
            {
                BuildBench<Four> bench = new(builds);
                bench.Run(drawn, count, group * Four.Count);
                for (int lane = 0; lane < Four.Count; lane++)
                    off[group * Four.Count + lane] = Compare(builds, bench, points, First + group * Four.Count + lane, lane);
            }
        );
        return [.. builds.Volts.Select((_, n) => off.SelectMany(build => build.Select(reading => reading[n])).ToArray())];
    }

    private static double[][] Compare(VoiceBuilds builds, BuildBench<Four> bench, SobolPoints points, long number, int lane)
    {
        PlayedVoice built = BuiltVoice.Make(builds.Voice, builds.AllDraws, points, number, builds.Paths.Trimmers, bench.PositionsOf(lane));
        List<double[]> off = [];
        for (int o = 0; o < builds.Laws.Length; o++)
            for (int k = 0; k < builds.Kelvins.Length; k++)
            {
                (double[] cents, SolveFailure? failure) = BuiltVoice.Read(built, o, builds.Kelvins[k], builds.Volts);
                if (failure is not null)
                    throw new InvalidOperationException(failure.ToString());
                off.Add([.. cents.Select((c, n) => Math.Abs(c - bench.Cents(o, k, n, lane)))]);
            }
        return [.. off];
    }
}
