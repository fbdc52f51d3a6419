using Consort.Engine.Circuit.Wiring;
using Consort.Engine.Design;
using Xunit;

namespace Consort.Tests.Circuit.Wiring;

public sealed class FollowersTests
{
    [Fact]
    public void Fewer_followers_are_the_first_ones()
    {
        Voice voice = Make.Linked(3).WithFollowers(1);
        Assert.Equal(["lead", "follower 1"], voice.Members.Select(member => member.Name));
        Assert.Equal(["follower 1"], Followers.Of(voice));
    }

    [Fact]
    public void No_followers_leave_no_ribbon() => Assert.Empty(Make.Linked(3).WithFollowers(0).Ribbons);

    [Fact]
    public void More_followers_are_copies_of_the_last_with_the_numbers_of_their_places()
    {
        Voice voice = Make.Linked(3).WithFollowers(16);
        Assert.Equal(16, Followers.Of(voice).Length);
        Assert.Equal("follower 16", Followers.Of(voice)[^1]);
        Assert.Equal(17, voice.Members.Length);
        Assert.All(voice.Members.Skip(4), member => Assert.Same(voice.Members[3].Module, member.Module));
        CircuitDesign circuit = VoiceCircuit.Build(voice);
        Assert.Contains(circuit.Parts, part => part.Name == "follower 16/R1");
        Assert.Contains(circuit.Parts, part => part.Name == "supply/+12 V to follower 16");
        Assert.Contains(circuit.Parts, part => part.Name == "lead/link wire 1 to follower 16/link");
    }

    [Fact]
    public void Copies_take_no_name_that_is_taken()
    {
        Voice voice = Make.Linked(1);
        voice = voice with { Players = [Make.Player("follower 2", 1e3, 0)] };
        Assert.Equal(["follower 1", "follower 2'", "follower 3"], Followers.Of(voice.WithFollowers(3)));
    }

    [Fact]
    public void The_number_that_is_there_changes_nothing()
    {
        Voice voice = Make.Linked(3);
        Assert.Equal(
            VoiceCircuit.Build(voice).Parts.Select(part => part.Name),
            VoiceCircuit.Build(voice.WithFollowers(3)).Parts.Select(part => part.Name)
        );
    }

    [Fact]
    public void A_follower_taken_away_takes_its_cords_along()
    {
        Voice voice = Make.Linked(2) with { Cords = [Make.Cord("follower 2/saw", "lead/fm")] };
        Assert.Empty(voice.WithFollowers(1).Cords);
    }

    [Fact]
    public void A_follower_taken_away_takes_along_what_it_feeds()
    {
        Voice voice = Make.Linked(3);
        voice = voice with
        {
            Ribbons =
            [
                voice.Ribbons[0] with { To = voice.Ribbons[0].To.RemoveAt(2) },
                new(Make.Name("follower 2/onward"), [Make.Name("follower 3/link")], 0.1, 28, Make.Nowhere),
            ],
        };
        Voice one = voice.WithFollowers(1);
        Assert.Equal(["lead", "follower 1"], one.Members.Select(member => member.Name));
        Assert.Single(one.Ribbons);
    }

    [Fact]
    public void A_voice_without_a_link_has_no_followers_to_count() =>
        Assert.Throws<ArgumentException>(() => Make.Voice().WithFollowers(2));
}
