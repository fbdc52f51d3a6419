using System.Collections.Immutable;
using Consort.Engine.Response;
using Consort.Tests.Sound;
using Xunit;

namespace Consort.Tests.Response;

public sealed class SyncRangeTests
{
    // The toy resets at 5 V, and at 4 V while its sync input is high. Pulses at a jack that lower the threshold V by a catch
    // periods from T(1 − a/V) to T: by first principles, no paper claimed. At 1 V of 5 V that is log2(5/4), 386.3 cents, and
    // only below what leads it. The pulses' length does not count: caught where the ramp of a whole leading period just
    // reaches 4 V.
    private static readonly Lazy<OscillatorResponse> Toy = new(() => Study.Of("sync"));

    private static SyncSheet Sheet => Assert.Single(Toy.Value.Syncs);

    [Fact]
    public void Pulses_that_lower_the_threshold_catch_what_is_slower_by_their_share_of_it()
    {
        Assert.Equal("o1/sync", Sheet.Source);
        Assert.True(Sheet.FlatEnds && Sheet.SharpEnds);
        // Half of 10 mV of hysteresis and 0.3 µs of delay and reset in every period move it by 0.5 cent, halving by 0.4.
        Assert.Equal(1200 * Math.Log2(5.0 / 4), Sheet.FlatCents, 1.0);
        // Equal to within 0.17 cent is taken as equal.
        Assert.Equal(0, Sheet.SharpCents, 1.0);
    }

    [Fact]
    public void Within_it_a_shortened_ramp_keeps_its_shape()
    {
        // A saw cut at 4 V to 5 V is a saw of that height: the spectrum scales, by a fifth at most, and keeps its ratios.
        Assert.InRange(Sheet.SpectrumChange, 0.1, 0.21);
        foreach (SyncView view in Sheet.Views)
            Assert.Equal(0.5, view.Amplitudes[1] / view.Amplitudes[0], 0.005);
    }

    [Fact]
    public void A_jack_is_tried_that_says_so_moves_nothing_at_rest_or_moves_pitch_from_one_end_only()
    {
        Drive Jack(string label) => new("o1", label, label, true, -5, 5);
        DriveEffect Effect(Drive drive, double hertz, double high, double top = 100) =>
            new(drive, [hertz, 100, top], ImmutableDictionary<string, ImmutableArray<double>>.Empty.Add("pulse", [high, 0.5, 0.5]));
        (Drive edge, Drive fm, Drive width, Drive named, Drive level, Drive gate) = (Jack("edge"), Jack("fm"), Jack("width"), Jack("sync"), Jack("strike"), Jack("gate"));
        KnownOscillator one = new(SoundingToy.Voice.Members[0], 100, ["pulse"], [new("pulse", 0, 5)], [edge, fm, width, named, level, gate])
        {
            Effects = [Effect(edge, 100, 0.5), Effect(fm, 90, 0.5, 110), Effect(width, 100, 0.7), Effect(named, 90, 0.5, 110), Effect(level, 100, 0.5, 125), Effect(gate, 100, 0.5, double.NaN)],
        };
        Assert.Equal([edge, named, level, gate], one.Drives.Where(one.MaySync));
    }

    [Fact]
    public void A_run_that_repeats_with_every_leading_period_is_caught_whatever_its_resets_within()
    {
        double[] twice = [.. Enumerable.Range(0, 14).SelectMany(i => new[] { i * 1.0, i + 0.7 })];
        Assert.True(new SyncRun(1, twice, [], []).IsCaught);
        Assert.False(new SyncRun(1, [.. Enumerable.Range(0, 14).Select(i => 1.001 * i)], [], []).IsCaught);
        Assert.False(new SyncRun(1, [.. Enumerable.Range(0, 14).Select(i => 0.7 * i)], [], []).IsCaught);
    }

    [Fact]
    public void Selectors_that_decide_nothing_are_left_out()
    {
        SyncSheet caught = new("lead", "S1 at a", 0, true, 100, true, "saw", []);
        SyncStudy.Trial Trial(string selector, int way) => new("lead", null, selector, way, $"{selector} at {way}");
        SyncStudy.Outcome[] all = [new(Trial("S1", 1), caught), new(Trial("S1", 2), caught), new(Trial("S2", 1), null), new(Trial("S2", 2), caught with { Way = "S2 at 2" })];
        Assert.Equal("S2 at 2", Assert.Single(SyncStudy.Choose(all)).Way);
        Assert.Equal("", Assert.Single(SyncStudy.Choose(all[..2])).Way);
    }
}
