using System.Collections.Immutable;
using System.Diagnostics;
using Consort.Engine.Pitch.Builds;
using Consort.Engine.Pitch.Builds.Lanes;

namespace Consort.Engine.Pitch.Live;

/// <summary>Reads an edited design by the laws of another: a build in which nothing is drawn and all that was edited is moved.</summary>
/// <param name="builds">The edited voice.</param>
/// <param name="benches">Of the voice whose laws are known.</param>
internal sealed class Estimator(VoiceBuilds builds, BuildBench<Four>[] benches)
{
    /// <summary>Trims the design and reads it.</summary>
    /// <param name="sureness">How good estimates are.</param>
    /// <param name="clock">Runs since the question.</param>
    public LiveAnswer Design(string sureness, Stopwatch clock)
    {
        BuildBench<Four> bench = benches[0];
        bench.Run([.. builds.Draws.Parameters.SelectMany(p => Enumerable.Repeat(p.Offset, Four.Count))], Four.Count, 0, isExact: true); // as the design itself is trimmed
        ImmutableArray<TrackingCurve> curves = [.. Curves(bench)];
        return new(
            AnswerKind.Estimate,
            sureness,
            LiveFigure.Of(builds.Voice.Voice, curves),
            curves,
            BuiltUnit.Trimmed(builds, bench, 0),
            null,
            null,
            clock.Elapsed.TotalMilliseconds
        );
    }

    private IEnumerable<TrackingCurve> Curves(BuildBench<Four> bench)
    {
        int[] notes = [.. Prover.Notes(builds.Voice.Voice).Select(volts => Array.FindIndex(builds.Volts, v => v == volts))];
        for (int k = 0; k < builds.Kelvins.Length; k++)
            for (int o = 0; o < builds.Laws.Length; o++)
                yield return new(builds.Voice.Oscillators[o].Name, builds.Kelvins[k], [.. notes.Select(n => Point(bench, o, k, n))]);
    }

    private TrackingPoint Point(BuildBench<Four> bench, int o, int k, int n)
    {
        double ideal = builds.Voice.Oscillators[o].IdealHertz(builds.Volts[n]);
        double cents = bench.Cents(o, k, n, 0);
        return new(builds.Volts[n], ideal, ideal * Math.Pow(2, cents / 1200), cents);
    }
}
