using Consort.Engine.Circuit;
using Consort.Engine.Design;
using Consort.Engine.Pitch;
using Consort.Engine.Pitch.Builds;
using Consort.Engine.Pitch.Builds.Draws;
using Consort.Engine.Pitch.Builds.Lanes;
using Consort.Engine.Pitch.Builds.Spread;
using Xunit;

namespace Consort.Tests.Pitch.Builds;

/// <summary>Builds while they warm up: the resistor that makes up for the pair's temperature is 1 K behind.</summary>
public sealed class LagTests
{
    private const double Tempco = 3500e-6;
    private static readonly VoiceBuilds Pair = ReadyBuilds.OfExample("pair", 1);

    [Fact]
    public void An_octave_is_stretched_by_what_the_divider_with_the_colder_resistor_passes_more()
    {
        // The base voltage is v·R/(R + 18 + rest) with the resistors of the pair's lead: 1k of 3500 ppm/K with 18 ohm in its foot,
        // under 54k9 and the trimmer. The exponential law (Gray, Hurst, Lewis, Meyer, Analysis and Design of Analog Integrated
        // Circuits, 4th ed. 2001, eq. 1.42; from memory) makes cents of it in proportion.
        BuildBench<Four> bench = Trimmed(0);
        double rest = 54.9e3 + 2e3 * (1 - bench.PositionsOf(0)[0]);
        double Share(double r) => (r + 18) / (r + 18 + rest);
        double stretch = 1200 * (Share(1000 * (1 - Tempco)) / Share(1000) - 1);
        int low = Array.IndexOf(Pair.Volts, 2), high = Array.IndexOf(Pair.Volts, 6);
        Assert.Equal(4 * stretch, bench.Moved(0, high, 0) - bench.Moved(0, low, 0), 0.05 * Math.Abs(4 * stretch));
    }

    [Fact]
    public void Builds_that_lag_agree_with_full_transients()
    {
        Engine.Pitch.Builds.Draws.SobolPoints points = SpreadStudy.Points(Pair, 1);
        BuildBench<Four> bench = Trimmed(40);
        for (int lane = 0; lane < 2; lane++)
        {
            PlayedVoice built = BuiltVoice.Make(Pair.Voice, Pair.AllDraws, points, 40 + lane, Pair.Paths.Trimmers, bench.PositionsOf(lane));
            double[] before = Read(built);
            foreach (string part in (string[])["lead/R15", "second/R8"])
                built.Circuit[part, "value"] *= 1 - Tempco;
            double[] after = Read(built);
            Assert.All(Enumerable.Range(0, after.Length), n => Assert.Equal(after[n] - before[n], bench.Moved(1, n, lane), 0.02));
        }
    }

    [Fact]
    public void Without_a_gradient_or_a_resistor_that_makes_up_for_temperature_nothing_lags()
    {
        Assert.NotNull(Lag.Of(Pair.Draws, 1));
        Assert.Null(Lag.Of(Pair.Draws, 0));
        Assert.Null(Lag.Of(Pair.Draws.Of([.. Enumerable.Range(0, Pair.Draws.Parameters.Length).Where(p => Pair.Draws.Parameters[p].Part.Name is not ("lead/R15" or "second/R8"))]), 1));
    }

    [Fact]
    public void A_bench_that_serves_an_edit_lags_as_the_edit_asks()
    {
        BuildBench<Four> bench = Trimmed(0);
        double before = bench.Moved(1, 2, 0);
        Voice voice = Pair.Voice.Voice;
        bench.Serve(Pair.Edited(PlayedVoice.Of(voice with { Limits = voice.Limits with { WarmUpGradient = 2 } }, cancel: TestContext.Current.CancellationToken), Pair.AllDraws));
        Run(bench, 0);
        Assert.Equal(2 * before, bench.Moved(1, 2, 0), 0.02 * Math.Abs(before));
    }

    [Fact]
    public void A_bench_that_serves_an_edit_of_a_temperature_coefficient_lags_by_the_new_one()
    {
        BuildBench<Four> bench = Trimmed(0);
        double before = bench.Moved(0, 2, 0);
        Voice voice = Pair.Voice.Voice;
        Module lead = voice.Members[0].Module;
        PlayedVoice edited = PlayedVoice.Of(voice.With(lead, lead.With("tempco", new Dictionary<string, double> { ["R15"] = 2 * Tempco })), cancel: TestContext.Current.CancellationToken);
        DrawPlan? draws = Pair.AllDraws.About(DrawPlanner.Plan(edited.Circuit, VoiceFolder.Read(Path.Combine(Golden.Root, "examples", "pair")).Stock!));
        Assert.NotNull(draws);
        Assert.NotNull(Lag.Of(draws, 1));
        bench.Serve(Pair.Edited(edited, draws));
        Run(bench, 0);
        Assert.Equal(2 * before, bench.Moved(0, 2, 0), 0.05 * Math.Abs(before));
    }

    private static BuildBench<Four> Trimmed(long first)
    {
        BuildBench<Four> bench = new(Pair);
        Run(bench, first);
        return bench;
    }

    private static void Run(BuildBench<Four> bench, long first)
    {
        double[] drawn = new double[Pair.Draws.Parameters.Length * Four.Count];
        Pair.Draws.Departures(SpreadStudy.Points(Pair, 1), first, Four.Count, drawn);
        bench.Run(drawn, Four.Count, 0);
        bench.WarmUp();
    }

    private static double[] Read(PlayedVoice built)
    {
        (double[] cents, SolveFailure? failure) = BuiltVoice.Read(built, 1, Pair.Kelvins[0], Pair.Volts);
        Assert.Null(failure);
        return cents;
    }
}
