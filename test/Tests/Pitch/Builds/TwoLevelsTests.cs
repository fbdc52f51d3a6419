using Consort.Engine.Circuit;
using Consort.Engine.Design;
using Consort.Engine.Pitch.Builds.Lanes;
using Consort.Engine.Pitch.Builds.Spread;
using Consort.Engine.Pitch.Builds;
using Consort.Engine.Pitch;
using Consort.Tests.Sound;
using Xunit;

namespace Consort.Tests.Pitch.Builds;

/// <summary>Builds by pitch path and core law against the same builds, trimmed alike, as whole circuits in full
/// transients.</summary>
public sealed class TwoLevelsTests
{
    [Fact]
    public void Builds_of_a_voice_whose_pitch_nothing_drawn_reaches_are_all_as_its_design()
    {
        VoiceBuilds builds = ReadyBuilds.Of(SoundingToy.Voice, Stock.Empty, [0, 1, 2, 3, 4]);
        SpreadResult spread = new SpreadStudy(builds, new(Stock.Empty, 16)).Run(1, null, TestContext.Current.CancellationToken);
        Assert.All(spread.Notes, band => Assert.All(band.Deviation, deviation => Assert.InRange(deviation, 0, 1e-6)));
        Assert.All(builds.Laws.Zip(spread.Notes.Where(band => band.Kelvin == builds.Kelvins[0])), pair => Assert.All(pair.First.Cents[0].Zip(pair.Second.Mean), cents => Assert.Equal(cents.First, cents.Second, 1e-6)));
    }

    [Fact]
    public void Trimmed_builds_of_the_pair_agree_with_full_transients()
    {
        // Asked are 0.1 cent from 32 Hz to 8 kHz, which are 0 V to 8 V. Found in 8 builds: 0.009.
        double[] worst = Worst("pair", first: 0, count: 4);
        Assert.All(worst, cents => Assert.InRange(cents, 0, 0.03));
    }

    [Theory]
    [Trait("Runs", "Long")]
    [InlineData("pair", 100, 0.05)]
    [InlineData("quartet", 52, 0.1)]
    public void Two_hundred_trimmed_oscillators_agree_with_full_transients(string example, int builds, double cents)
    {
        double[] worst = Worst(example, first: 1000, builds);
        Assert.All(worst[..9], most => Assert.InRange(most, 0, cents));
    }

    // The largest disagreement over oscillators and temperatures, by note.
    private static double[] Worst(string example, long first, int count)
    {
        VoiceBuilds builds = ReadyBuilds.OfExample(example, Environment.ProcessorCount);
        Engine.Pitch.Builds.Draws.SobolPoints points = SpreadStudy.Points(builds, 1);
        double[] drawn = new double[builds.Draws.Parameters.Length * count];
        builds.Draws.Departures(points, first, count, drawn);
        double[][] worst = [.. Enumerable.Range(0, count).Select(_ => new double[builds.Volts.Length])];
        Parallel.For(
            0,
            count / Four.Count,
            group =>
            {
                BuildBench<Four> bench = new(builds);
                bench.Run(drawn, count, group * Four.Count);
                for (int lane = 0; lane < Four.Count; lane++)
                    Compare(builds, bench, lane, BuiltVoice.Make(builds.Voice, builds.AllDraws, points, first + group * Four.Count + lane, builds.Paths.Trimmers, bench.PositionsOf(lane)), worst[group * Four.Count + lane]);
            }
        );
        return [.. Enumerable.Range(0, builds.Volts.Length).Select(n => worst.Max(row => row[n]))];
    }

    private static void Compare(VoiceBuilds builds, BuildBench<Four> bench, int lane, PlayedVoice built, double[] worst)
    {
        for (int o = 0; o < builds.Laws.Length; o++)
            for (int k = 0; k < builds.Kelvins.Length; k++)
            {
                (double[] cents, SolveFailure? failure) = BuiltVoice.Read(built, o, builds.Kelvins[k], builds.Volts);
                Assert.Null(failure);
                for (int n = 0; n < cents.Length; n++)
                    worst[n] = Math.Max(worst[n], Math.Abs(cents[n] - bench.Cents(o, k, n, lane)));
            }
    }
}
