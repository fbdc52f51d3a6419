using System.Collections.Immutable;
using Consort.Engine.Circuit;
using Consort.Engine.Design;
using Consort.Engine.Pitch;
using Consort.Engine.Sound.Oscillators;
using Consort.Engine.Sound.Playing;
using Consort.Engine.Sound.Sync;
using Consort.Tests.Circuit;
using Xunit;

namespace Consort.Tests.Sound.Sync;

public sealed class SyncReaderTests
{
    [Theory]
    [InlineData(2, 0)]
    [InlineData(2, 250)]
    [InlineData(2, -300)]
    [InlineData(3, 0)]
    [InlineData(3, 700)]
    [InlineData(3, -500)]
    public void Trial(int way, double cents)
    {
        PlayedVoice voice = SyncedPair.Of(way, cents);
        (ImmutableArray<SyncLaw?> laws, _) = new SyncReader(voice, 3, 3, ((string[])["triangle", "sine", "pulse"]).ToLookup(_ => "second")).Read();
        TestContext.Current.TestOutputHelper!.WriteLine($"{way} {cents} mark {laws[0]!.Mark:0.00000} {string.Join(", ", laws[0]!.Lags.Select(lag => $"{lag.Key} {lag.Value * 1e6:0.00} us"))}");
        foreach (string output in (string[])["triangle", "sine", "pulse"])
        {
            (double db, SolveFailure? broken) = CircuitResidual.Read(voice, "second", output, 57);
            TestContext.Current.TestOutputHelper!.WriteLine($"{way} {cents} {output} {db:0.0} dB {broken}");
        }
    }

    [Theory]
    [InlineData(2, -50)]
    [InlineData(3, 0)]
    [InlineData(3, 700)]
    [InlineData(3, -500)]
    public void Quart(int way, double cents)
    {
        PlayedVoice voice = SyncedPair.Quartet(way, cents);
        (ImmutableArray<SyncLaw?> laws, _) = new SyncReader(voice, 3, 3, ((string[])["saw", "sine", "pulse"]).ToLookup(_ => "second")).Read();
        TestContext.Current.TestOutputHelper!.WriteLine($"{way} {cents} mark {laws[0]!.Mark:0.00000} {string.Join(", ", laws[0]!.Lags.Select(lag => $"{lag.Key} {lag.Value * 1e6:0.00} us"))} range {Holding.Range(laws[0]!, 261.6, cents)}");
        if (cents == 0)
            for (int i = 0; i < 128; i++)
                TestContext.Current.TestOutputHelper!.WriteLine($"{i / 128.0} {laws[0]!.Maps[0].Map.After(i / 128.0):0.00000}");
        foreach (string output in (string[])["saw", "sine", "pulse"])
        {
            (double db, SolveFailure? broken) = CircuitResidual.Read(voice, "second", output, 57);
            TestContext.Current.TestOutputHelper!.WriteLine($"{way} {cents} {output} {db:0.0} dB {broken}");
        }
    }

    [Fact]
    public void Soft_sync_holds_from_the_phase_at_which_the_lowered_threshold_is_passed()
    {
        // The limit falls from 5 V to 4 V while the lead's gate is high: the follower is caught from 4/5 of its period on.
        PlayedVoice voice = PlayedVoice.Of(SoundingToy.Read("  - {from: o1/reset, to: o2/sync, length: 1 mm}"), TestContext.Current.CancellationToken);
        Assert.Null(voice.Prepare());
        (ImmutableArray<SyncLaw?> laws, SolveFailure? failure) = new SyncReader(voice, 1, 1, Array.Empty<string>().ToLookup(name => name)).Read();
        Assert.Null(failure);
        Expect.Within(0.8, From(laws[0]!), 0.01);
        (ImmutableArray<SyncLaw?> free, _) = new SyncReader(SoundingToy.Played.Twin(), 1, 1, Array.Empty<string>().ToLookup(name => name)).Read();
        Assert.Null(free[0]);
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
        (ImmutableArray<SyncLaw?> laws, SolveFailure? failure) = new SyncReader(voice, 3, 3, Array.Empty<string>().ToLookup(name => name)).Read();
        Assert.Null(failure);
        Expect.Within(phase, From(laws[0]!), 0.01);
    }

    // The first phase that is not left as it is.
    private static double From(SyncLaw law) => Enumerable.Range(0, 2000).Select(i => (i + 0.5) / 2000).First(phase => Math.Abs(PhaseMap.Short(law.After(phase, law.Maps[0].Hertz) - phase)) > 5e-3);
}
