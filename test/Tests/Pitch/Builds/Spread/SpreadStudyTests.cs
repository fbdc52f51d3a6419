using Consort.Engine.Circuit;
using Consort.Engine.Design;
using Consort.Engine.Pitch;
using Consort.Engine.Pitch.Builds;
using Consort.Engine.Pitch.Builds.Spread;
using Xunit;

namespace Consort.Tests.Pitch.Builds.Spread;

public sealed class SpreadStudyTests
{
    // A capacitor of 1 % sets the pitch, and a resistor of 1 % across 1 kΩ tilts it; the law takes the 1 kΩ away again.
    // Its hysteresis makes the saw 5.1 V high, 2 % too much, which is where it is asked to stand.
    private static readonly Voice Toy = At(-1200 * Math.Log2(1.02), ToyVoice.OnMultiple(1, ToyVoice.Oscillator("toy", "100k", gain: "1.01")));

    private static Voice At(double cents, Voice voice) => voice with { Members = [voice.Members[0] with { StandsCents = cents }] };

    // |c| and |c + r| must stay within 3 cents, where c = −1200·log2(1 + d) with d even within 1 %, and r is even within
    // 1200·3·(101/102 − 1)/101·… = 0.353 cents at 3 V: the part of c's range that is left is 6 − E|r| cents wide.
    private const double KnownYield = (6 - 0.353 / 2) / (2 * 17.312);

    [Fact]
    public void A_yield_that_can_be_worked_out_lies_inside_its_interval_in_95_of_100_studies_or_more()
    {
        VoiceBuilds builds = ReadyBuilds.Of(Toy, Stock.Empty, [0, 1, 2, 3, 4]);
        const int Studies = 40;
        int inside = 0;
        for (int seed = 1; seed <= Studies; seed++)
        {
            YieldInterval yield = new SpreadStudy(builds, new(Stock.Empty, 1000, (ulong)seed)).Run(1, null, TestContext.Current.CancellationToken).Yield;
            inside += yield.Low <= KnownYield && KnownYield <= yield.High ? 1 : 0;
        }
        // Of 40 studies 38 are 95 %; fewer than 36 happen by chance once in 20 when the interval is just right.
        Assert.InRange(inside, 36, Studies);
    }

    [Fact]
    public void Builds_turn_a_trimmer_of_the_core_that_stands_at_its_end_in_the_design()
    {
        // A pair whose lead asks for more tracking than its trimmer has: trying to make up for it, the high end runs to its end too.
        Voice pair = VoiceFolder.Read(Path.Combine(Golden.Root, "examples", "pair")).Voice!;
        Part scale = pair.Members[0].Module.Circuit.Single(part => part.Name == "R14");
        Module changed = pair.Members[0].Module with { Circuit = pair.Members[0].Module.Circuit.Replace(scale, scale with { Numbers = scale.Numbers.SetItem("value", 53.6e3) }) };
        Voice voice = pair with { Members = [pair.Members[0] with { Module = changed }, pair.Members[1]] };
        (PlayedVoice? played, _, SolveFailure? untrimmed) = ReadyVoice.Trimmed(voice, 2);
        Assert.True(played is not null, untrimmed?.ToString());
        (VoiceBuilds? builds, SolveFailure? failure) = VoiceBuilds.Find(played, Stock.Empty, new(played, ReadyBuilds.Temperatures, [1, 2, 3, 4, 5, 6]), 2);
        Assert.True(builds is not null, failure?.ToString());
        SpreadResult spread = new SpreadStudy(builds, new(Stock.Empty, 256)).Run(2, null, TestContext.Current.CancellationToken);
        TrimmerUse Of(string trimmer) => spread.Trimmers.Single(use => use.Oscillator == "lead" && use.Trimmer == trimmer);
        Assert.InRange(Of("RV1").Design, 0.999, 1);
        Assert.InRange(Of("RV3").Design, 0, 0.001);
        // A third of the builds has range left; there the high end stands near its middle, as in the example, and the voice holds.
        Assert.InRange(Of("RV3").High, 0.4, 0.6);
        Assert.Equal(1 - Of("RV1").RunsOut.Share, spread.Yield.Share, 0.1);
    }

    [Fact]
    public void The_capacitor_brings_all_of_the_spread_but_for_the_resistor()
    {
        SpreadResult spread = new SpreadStudy(ReadyBuilds.Of(Toy, Stock.Empty, [0, 1, 2, 3, 4]), new(Stock.Empty, 4096)).Run(1, null, TestContext.Current.CancellationToken);
        PartShare first = spread.Shares.MaxBy(share => share.Tracking)!;
        Assert.Equal(("o1/C1", "tolerance"), (first.Part, first.Parameter));
        // Variances add: r's is a third of 0.353² at 3 V, less below, against a third of 17.3².
        Assert.InRange(first.Tracking, 0.995, 1);
    }

    [Fact]
    public void One_thread_and_two_and_a_stop_on_the_way_give_the_same_bits()
    {
        VoiceBuilds builds = ReadyBuilds.OfExample("pair", 2);
        SpreadRequest request = new(Stock.Empty, 1500, 7);
        SpreadResult one = new SpreadStudy(builds, request).Run(1, null, TestContext.Current.CancellationToken);
        AssertSame(one, new SpreadStudy(builds, request).Run(2, null, TestContext.Current.CancellationToken));
        SpreadStudy stopped = new(builds, request);
        Assert.Equal(512, stopped.To(512, 2, null, TestContext.Current.CancellationToken).Builds);
        AssertSame(one, stopped.To(1500, 2, null, TestContext.Current.CancellationToken));
    }

    [Fact]
    public void The_share_by_itself_is_that_of_the_whole_study()
    {
        VoiceBuilds builds = ReadyBuilds.OfExample("pair", 2);
        SpreadRequest request = new(Stock.Empty, 601, 3);
        YieldInterval whole = new SpreadStudy(builds, request).Run(1, null, TestContext.Current.CancellationToken).Yield;
        Assert.Equal(whole, new SpreadStudy(builds, request).Yield(TestContext.Current.CancellationToken));
        SpreadStudy toy = new(ReadyBuilds.Of(Toy, Stock.Empty, [0, 1, 2, 3, 4]), request);
        YieldInterval few = toy.Yield(TestContext.Current.CancellationToken);
        Assert.InRange(few.Share, 0.1, 0.25); // one in six keeps the limit: fours in which none does are common
        Assert.Equal(few, toy.Run(1, null, TestContext.Current.CancellationToken).Yield);
    }

    private static void AssertSame(SpreadResult one, SpreadResult other)
    {
        Assert.Equal(one.Yield, other.Yield);
        Assert.Equal(one.Figures, other.Figures);
        Assert.Equal(one.Trimmers, other.Trimmers);
        Assert.Equal(one.Followers, other.Followers);
        Assert.Equal(one.Shares, other.Shares);
        Assert.Equal(one.Worst, other.Worst);
        Assert.All(one.Notes.Zip(other.Notes), pair => Assert.Equal(pair.First.Deviation, pair.Second.Deviation));
    }

    [Fact]
    public void A_trimmer_takes_away_what_a_resistors_tolerance_did_and_stands_where_arithmetic_says()
    {
        // The law sees 1.25·s·V; R1 of 1 MΩ beside the trimmer and 1 kΩ before it want s = 0.8·(1 + 1 kΩ/(100 kΩ ∥ R1)).
        string module = ToyVoice.Oscillator(
            "toy",
            "1M",
            "trims:\n  - {trimmer: RV1, for: tracking, low: 0 V, high: 3 V}\n  - {trimmer: RV2, for: centre, at: 0 V}",
            "RV1: {trimmer: 100k, resolution: 0.001%, turns: 20, position: 50%, ccw: 0 V, wiper: scaled, cw: in}\n  RV2: {trimmer: 1k, ccw: 0 V, wiper: 0 V, cw: 0 V}",
            "1.25"
        );
        SpreadResult spread = new SpreadStudy(ReadyBuilds.Of(ToyVoice.OnMultiple(1, module), Stock.Empty, [0, 1, 2, 3, 4]), new(Stock.Empty, 1000)).Run(1, null, TestContext.Current.CancellationToken);
        double Stand(double r1) => 0.8 * (1 + 1 / (100 * r1 / (100 + r1)));
        TrimmerUse use = spread.Trimmers[0];
        Assert.Equal(Stand(1000), use.Median, 1e-3); // a bin of the histogram is as wide
        Assert.Equal(0, use.RunsOut.Passed);
        // 20 turns of 360 degrees; 1200·3·1.25 cents for the whole turn, less the 1.1 % of the source.
        Assert.Equal(1200 * 3 * 1.25 / 7200, use.CentsPerDegree, 0.02);
    }

    [Fact]
    public void A_trimmer_without_range_is_told_with_what_it_lacks()
    {
        // The law sees 0.9·s·V at most: 120 cents an octave are missing, 360 over the three octaves that are set.
        string module = ToyVoice.Oscillator(
            "toy",
            "1M",
            "trims:\n  - {trimmer: RV1, for: tracking, low: 0 V, high: 3 V}",
            "RV1: {trimmer: 100k, turns: 20, position: 50%, ccw: 0 V, wiper: scaled, cw: in}",
            "0.9"
        );
        SpreadResult spread = new SpreadStudy(ReadyBuilds.Of(ToyVoice.OnMultiple(1, module), Stock.Empty, [0, 1, 2, 3, 4]), new(Stock.Empty, 256)).Run(1, null, TestContext.Current.CancellationToken);
        TrimmerUse use = spread.Trimmers[0];
        Assert.Equal(256, use.RunsOut.Passed);
        Assert.Equal(1200 * 3 * (1 - 0.9 / (1 + 1.1 / 100)), use.MissingCents, 4.0); // a bin is 1 % wide
    }
}
