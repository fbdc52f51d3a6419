using Consort.Engine.Design;
using Consort.Engine.Pitch;
using Consort.Engine.Pitch.Builds.Cores;
using Xunit;

namespace Consort.Tests.Pitch.Builds.Cores;

/// <summary>Which cores are taken to be alike.</summary>
public sealed class CoreKindTests
{
    // The quartet's lead has P1 at 50 % and SW1 at 2 in its own file, and RV1 is one of its trims.
    [Theory]
    [InlineData("P1", 0.5, true)]
    [InlineData("SW1", 2, true)]
    [InlineData("RV1", 0.3, true)]
    [InlineData("P1", 0.6, false)]
    [InlineData("SW1", 1, false)]
    public void Only_a_control_that_stands_elsewhere_than_its_module_has_it_makes_another_kind(string control, double position, bool isAlike)
    {
        (Voice? quartet, _, _) = VoiceFolder.Read(Path.Combine(Golden.Root, "examples", "quartet"));
        Assert.Equal(isAlike, Kind(quartet!, lead => lead with { Set = lead.Set.Clear() }) == Kind(quartet!, lead => lead with { Set = lead.Set.SetItem(control, position) }));
    }

    private static string Kind(Voice voice, Func<Member, Member> change) =>
        CoreKind.Of(PlayedVoice.Of(voice with { Members = voice.Members.SetItem(0, change(voice.Members[0])) }, TestContext.Current.CancellationToken), 0);
}
