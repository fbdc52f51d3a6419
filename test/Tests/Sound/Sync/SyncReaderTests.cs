using System.Collections.Immutable;
using Consort.Engine.Circuit;
using Consort.Engine.Design;
using Consort.Engine.Pitch;
using Consort.Engine.Quantities;
using Consort.Engine.Sound.Oscillators;
using Consort.Engine.Sound.Playing;
using Consort.Engine.Sound.Sync;
using Consort.Tests.Circuit;
using Xunit;

namespace Consort.Tests.Sound.Sync;

public sealed class SyncReaderTests
{
    // The pair's own words: the hard pull draws its capacitor below the lower level, from where it rises; the soft one draws it
    // a part of the way down, so that it is moved less the nearer it stands to the bottom, three quarters of a period after it
    // is counted.
    [Fact]
    public void A_hard_pull_sets_the_triangle_to_its_bottom_wherever_it_stands()
    {
        SyncLaw law = Read(SyncedPair.Of(3), 3);
        Expect.Within(0.25, law.Mark, 2e-3); // the lead's square rises at the top of its triangle
        double[] afters = [.. Enumerable.Range(0, 64).Select(i => law.After(i / 64.0, law.Maps[0].Hertz))];
        Assert.All(afters, after => Expect.Within(0.74, after, 0.01));
    }

    [Fact]
    public void A_soft_pull_moves_the_triangle_towards_its_bottom_and_less_the_nearer_it_stands()
    {
        SyncLaw law = Read(SyncedPair.Of(2), 3);
        double Moved(double phase) => Turns.Short(law.After(phase, law.Maps[0].Hertz) - phase);
        Assert.InRange(Moved(0.3), 0.1, 0.3); // falling: it comes to its bottom sooner
        Assert.InRange(Moved(0.6), 0.02, Moved(0.45));
        Assert.InRange(Moved(0.2), -0.3, -0.1); // rising: it is thrown back
        Assert.InRange(Moved(0.85), -0.1, 0);
        Expect.Within(0, Moved(0.74), 0.01);
    }

    [Fact]
    public void A_switch_that_is_off_leaves_the_second_alone() => Assert.Null(Laws(SyncedPair.Of(1), 3)[0]);

    [Theory]
    [InlineData(2, -395, 320)]
    [InlineData(3, -1200, 1200)]
    public void The_range_that_holds_by_the_map_is_the_one_that_holds_in_the_circuit(int way, double from, double to)
    {
        // Just inside, the whole circuit repeats with every period of the lead; just outside, it does not.
        PlayedVoice near = SyncedPair.Of(way);
        (double From, double To) range = Holding.Range(Read(near, 3), near.Oscillators[0].IdealHertz(3))!.Value;
        Expect.Within(from, range.From, 10);
        Expect.Within(to, range.To, 10);
        foreach ((double end, int side) in ((double, int)[])[(range.From, -1), (range.To, 1)])
            if (Math.Abs(end) < Holding.Farthest)
                Assert.Equal((true, true, false, false), (Repeats(near, end - side * 60), Repeats(near, end - side * 15), Repeats(near, end + side * 15), Repeats(near, end + side * 60)));
    }

    // Sixty periods of the lead at first; then all at which the second is counted in one of its periods, it is in the next.
    private static bool Repeats(PlayedVoice voice, double cents)
    {
        double period = Math.Pow(2, cents / 1200) / voice.Oscillators[1].IdealHertz(3);
        (LedVoice? led, _) = LedVoice.Start(voice.Twin(), 3, period);
        Assert.Null(led!.RunUntil(() => led.Times(0).Count >= 64, 80 * period));
        double from = led.Times(0)[60];
        return led.Times(1).Where(time => time > from && time < from + 2 * period).All(time => led.Times(1).Any(later => Math.Abs(later - time - period) < 3e-3 * period));
    }

    private static ImmutableArray<SyncLaw?> Laws(PlayedVoice voice, double volts, params string[] outputs)
    {
        (ImmutableArray<SyncLaw?> laws, SolveFailure? failure) = new SyncReader(voice, volts, volts, outputs.ToLookup(_ => "second")).Read();
        Assert.Null(failure);
        return laws;
    }

    private static SyncLaw Read(PlayedVoice voice, double volts) => Laws(voice, volts)[0]!;

    [Fact]
    public void Soft_sync_holds_from_the_phase_at_which_the_lowered_threshold_is_passed()
    {
        // The limit falls from 5 V to 4 V while the lead's gate is high: the follower is caught from 4/5 of its period on.
        PlayedVoice voice = PlayedVoice.Of(SoundingToy.Read("  - {from: o1/reset, to: o2/sync, length: 1 mm}"), TestContext.Current.CancellationToken);
        Assert.Null(voice.Prepare());
        Expect.Within(0.8, From(Read(voice, 1)), 0.01);
        Assert.Null(Laws(SoundingToy.Played.Twin(), 1)[0]);
    }

    [Theory]
    [InlineData(2, 0.91)] // 47k beside 5k, of 2.5 V: 2.26 V
    [InlineData(3, 0)] // to the collector's saturation, some 0.1 V of 2.5 V
    public void A_follower_of_the_quartet_is_held_from_the_phase_to_which_its_switch_lowers_the_limit(int position, double phase)
    {
        Voice whole = VoiceFolder.Read(Path.Combine(Golden.Root, "examples", "quartet")).Voice!;
        Member[] two = [.. whole.Members.Take(2).Select((member, i) => i == 0 ? member : member with { Set = member.Set.SetItem("SW1", position) })];
        PlayedVoice voice = PlayedVoice.Of(whole with { Members = [.. two], Ribbons = [whole.Ribbons[0] with { To = [whole.Ribbons[0].To[0]] }] }, TestContext.Current.CancellationToken);
        Assert.Null(voice.Prepare());
        Expect.Within(phase, From(Read(voice, 3)), 0.01);
    }

    // The first phase that is not left as it is.
    private static double From(SyncLaw law) => Enumerable.Range(0, 2000).Select(i => (i + 0.5) / 2000).First(phase => Math.Abs(Turns.Short(law.After(phase, law.Maps[0].Hertz) - phase)) > 5e-3);
}
