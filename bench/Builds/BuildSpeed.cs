using System.Diagnostics;
using Consort.Engine.Circuit;
using Consort.Engine.Design;
using Consort.Engine.Pitch;
using Consort.Engine.Pitch.Builds;
using Consort.Engine.Pitch.Builds.Draws;
using Consort.Engine.Pitch.Builds.Lanes;
using Consort.Engine.Pitch.Builds.Spread;
using Consort.Engine.Pitch.Builds.Trimming;

namespace Consort.Bench.Builds;

/// <summary>How many trimmed builds a second: one oscillator at one temperature alone and four at a time, the whole voice at three
/// temperatures on one thread and on two, and where the time goes.</summary>
internal static class BuildSpeed
{
    private const int Count = 4096;
    private const int Turns = 15; // the fastest counts: the first ones still compile

    public static void Run(Page page)
    {
        page.Heading("Builds");
        page.Line("The quartet. One oscillator: its lead, trimmed (three trimmers), then nine notes at 25 °C. The voice: four oscillators, trimmed,");
        page.Line("ten notes at three temperatures, drawn and counted. Fastest of fifteen.");
        VoiceBuilds builds = Ready("quartet");
        double[] drawn = new double[builds.Draws.Parameters.Length * Count];
        SobolPoints points = SpreadStudy.Points(builds, 1);
        double drawing = Fastest(() => builds.Draws.Departures(points, 0, Count, drawn));
        double scalar = Fastest(() => One<One>(builds, drawn, out _));
        double four = Fastest(() => One<Four>(builds, drawn, out _));
        double rounds = One<Four>(builds, drawn, out long made) is var _ ? (double)made / (Count / Four.Count) : 0;
        double one = Fastest(() => new SpreadStudy(builds, new(Stock.Empty, Count)).Run(1));
        double two = Fastest(() => new SpreadStudy(builds, new(Stock.Empty, Count)).Run(2));
        page.Table(
            ["what", "builds a second", "µs a build", "beside"],
            [
                ["one oscillator, one at a time", Rate(scalar), Micros(scalar), "1"],
                ["one oscillator, four at a time", Rate(four), Micros(four), $"{scalar / four:0.00}"],
                ["the voice at three temperatures, one thread", Rate(one), Micros(one), "1"],
                ["the voice at three temperatures, two threads", Rate(two), Micros(two), $"{one / two:0.00}"],
            ]
        );
        page.Line($"Drawing {builds.Draws.Parameters.Length} parameters takes {Micros(drawing)} µs of a build of the voice. The lead is trimmed in {rounds:0.0} rounds of");
        page.Line($"four readings, then read nine times; its path has {builds.Paths.Plans[0].Elimination.Rows.Length} unknowns left for every reading, its core law {builds.Laws[0].Parameters.Length} parameters.");
        page.Line();
    }

    /// <summary>An example made ready for builds.</summary>
    public static VoiceBuilds Ready(string name)
    {
        (Voice? voice, Stock? stock, _) = VoiceFolder.Read(Path.Combine("examples", name));
        PlayedVoice played = Examples.Play(name);
        (_, SolveFailure? failure) = VoiceTrimming.Run(played, 2);
        (VoiceBuilds? builds, failure) =
            failure is null ? VoiceBuilds.Find(played, stock!, new(played, [298.15, 288.15, 308.15], Prover.Notes(voice!)), 2) : (null, failure);
        return builds ?? throw new InvalidOperationException($"examples/{name}: {failure}");
    }

    private static double One<T>(VoiceBuilds builds, double[] drawn, out long rounds)
        where T : struct, ILanes<T>
    {
        BuildReader<T> reader = builds.Reader<T>(0);
        BuildTrimmer<T> trimmer = new(builds.Sheets[0], reader);
        T[] departures = new T[builds.Draws.Parameters.Length];
        T[] positions = new T[builds.Paths.Trimmers.Length];
        T sum = T.Of(0);
        for (int first = 0; first < Count; first += T.Count)
        {
            for (int p = 0; p < departures.Length; p++)
                departures[p] = T.From(drawn.AsSpan(p * Count + first, T.Count));
            reader.Take(departures);
            reader.SetTemperature(0);
            trimmer.Run(positions);
            for (int n = 0; n < 9; n++)
                sum += reader.Cents(n);
        }
        rounds = trimmer.Rounds;
        double[] lanes = new double[T.Count];
        T.Store(sum, lanes);
        return lanes[0];
    }

    private static double Fastest(Action run)
    {
        double least = double.MaxValue;
        for (int turn = 0; turn < Turns; turn++)
        {
            long start = Stopwatch.GetTimestamp();
            run();
            least = Math.Min(least, Stopwatch.GetElapsedTime(start).TotalSeconds);
        }
        return least;
    }

    private static string Rate(double seconds) => $"{Count / seconds:0}";

    private static string Micros(double seconds) => $"{1e6 * seconds / Count:0.0}";
}
