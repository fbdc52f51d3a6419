using System.Collections.Immutable;
using Consort.Engine.Circuit.Wiring;
using Consort.Engine.Design;
using Consort.Workbench.Session;
using Xunit;

namespace Consort.Workbench.Tests.Session;

public sealed class FollowerTextTests
{
    [Theory]
    [InlineData("quartet")]
    [InlineData("pair")]
    public void One_more_reads_as_the_voice_with_one_more_and_all_other_lines_stay(string example)
    {
        (Voice voice, SourceText source) = Read(example);
        string text = FollowerText.More(voice, source)!;
        Voice wanted = voice.WithFollowers(Followers.Of(voice).Length + 1);
        AssertSame(wanted, Reread(example, text));
        string[] added = [.. text.Split('\n').Except(source.Text.Split('\n'))];
        Assert.Equal(2, added.Length); // the member, and the ribbon's line
        Assert.Equal(source.Text.Split('\n').Length + 1, text.Split('\n').Length);
    }

    [Fact]
    public void One_more_and_one_fewer_gives_the_text_back()
    {
        (Voice voice, SourceText source) = Read("quartet");
        string more = FollowerText.More(voice, source)!;
        Assert.Equal(source.Text, FollowerText.Fewer(Reread("quartet", more), SourceText.Of(more, source.File)));
    }

    [Fact]
    public void One_fewer_takes_its_cords_with_it()
    {
        (Voice voice, SourceText source) = Read("quartet");
        string patched = source.Text.Replace("cords:\n", "cords:\n  - {from: fourth/saw, to: lead/lin fm, length: 30 cm} # its own\n", StringComparison.Ordinal);
        string text = FollowerText.Fewer(Reread("quartet", patched), SourceText.Of(patched, source.File))!;
        Assert.DoesNotContain("fourth", text, StringComparison.Ordinal);
        AssertSame(voice.WithFollowers(2), Reread("quartet", text));
    }

    [Fact]
    public void Blocks_are_kept_as_blocks()
    {
        (_, SourceText source) = Read("quartet");
        string block = source.Text
            .Replace("  fourth: {module: quartet-follower, stands: -5 cents}\n", "  fourth: # the low one\n    module: quartet-follower\n    stands: -5 cents\n", StringComparison.Ordinal)
            .Replace("to: [second/link, third/link, fourth/link], length: 12 cm, gauge: 28}", "length: 12 cm, gauge: 28, to: [second/link, third/link, fourth/link]}", StringComparison.Ordinal);
        Voice voice = Reread("quartet", block);
        string more = FollowerText.More(voice, SourceText.Of(block, source.File))!;
        AssertSame(voice.WithFollowers(4), Reread("quartet", more));
        string fewer = FollowerText.Fewer(voice, SourceText.Of(block, source.File))!;
        AssertSame(voice.WithFollowers(2), Reread("quartet", fewer));
        Assert.DoesNotContain("the low one", fewer, StringComparison.Ordinal);
    }

    [Fact]
    public void The_last_follower_is_not_taken_away() => Assert.Null(Read("pair") is var (voice, source) ? FollowerText.Fewer(voice, source) : "");

    private static void AssertSame(Voice wanted, Voice read)
    {
        Assert.Equal(wanted.Members.Select(member => (member.Name, member.Module.Name, member.StandsCents)), read.Members.Select(member => (member.Name, member.Module.Name, member.StandsCents)));
        Assert.Equal(wanted.Ribbons.Select(ribbon => string.Join(' ', ribbon.To)), read.Ribbons.Select(ribbon => string.Join(' ', ribbon.To)));
        Assert.Equal(wanted.Cords.Select(cord => (cord.From, cord.To)), read.Cords.Select(cord => (cord.From, cord.To)));
    }

    private static (Voice Voice, SourceText Source) Read(string example)
    {
        using OwnCopy copy = new(example);
        DesignTexts texts = DesignTexts.Read(copy.Path);
        return (VoiceFolder.Read(texts).Voice!, texts.Find(DesignTexts.VoiceFile)!);
    }

    private static Voice Reread(string example, string text)
    {
        using OwnCopy copy = new(example);
        DesignTexts texts = DesignTexts.Read(copy.Path);
        (Voice? voice, _, ImmutableArray<InputError> errors) = VoiceFolder.Read(texts.With(SourceText.Of(text, DesignTexts.VoiceFile)));
        Assert.Empty(errors.Where(error => !error.IsNote).Select(error => error.Render()));
        return voice!;
    }
}
