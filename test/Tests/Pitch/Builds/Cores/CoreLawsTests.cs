using Consort.Engine.Circuit;
using Consort.Engine.Design;
using Consort.Engine.Pitch;
using Consort.Engine.Pitch.Builds;
using Consort.Engine.Pitch.Builds.Cores;
using Xunit;

namespace Consort.Tests.Pitch.Builds.Cores;

/// <summary>Which oscillators one survey tells of.</summary>
public sealed class CoreLawsTests
{
    [Fact]
    public void A_core_tells_of_its_like_out_of_the_link_and_not_of_one_whose_charge_law_is_another()
    {
        (Voice? pair, _, _) = VoiceFolder.Read(Path.Combine(Golden.Root, "examples", "pair"));
        (KnownCore? core, SolveFailure? failure) = Cores(pair!).Survey(0);
        Assert.True(core is not null, failure?.ToString());
        Voice lone = pair! with { Members = [pair.Members[0]], Ribbons = [] };
        Assert.True(Cores(lone).ServesElsewhere(core, 0));
        // A tenth of a per cent of its capacitor is 1.7 cents of charge, trimmed or not.
        CoreLaws other = Cores(lone with { Members = [WithCapacitor(lone.Members[0], 1.001)] });
        Assert.True(other.Serves(core, 0));
        Assert.False(other.ServesElsewhere(core, 0));
    }

    private static Member WithCapacitor(Member member, double factor)
    {
        Part capacitor = member.Module.Circuit.Single(part => part.Name == member.Module.Pitch!.TimingCapacitor);
        Part changed = capacitor with { Numbers = capacitor.Numbers.SetItem("value", factor * capacitor.Number("value")) };
        return member with { Module = member.Module with { Circuit = member.Module.Circuit.Replace(capacitor, changed) } };
    }

    private static CoreLaws Cores(Voice voice)
    {
        (PlayedVoice? played, _, SolveFailure? untrimmed) = ReadyVoice.Trimmed(voice, 2);
        Assert.True(played is not null, untrimmed?.ToString());
        (CoreLaws? cores, SolveFailure? failure) = VoiceBuilds.Cores(played, Stock.Empty, new(played, ReadyBuilds.Temperatures, [1, 2, 3, 4, 5]), 2);
        Assert.True(cores is not null, failure?.ToString());
        return cores;
    }
}
