using Consort.Engine.Design;
using Consort.Workbench.Session;
using Xunit;

namespace Consort.Workbench.Tests.Session;

public sealed class PatchTextTests
{
    [Fact]
    public void A_cord_that_is_plugged_in_is_one_line_more_and_taking_it_out_gives_the_text_back()
    {
        SourceText source = Read("quartet");
        string text = PatchText.PlugIn(source, "fourth/saw", "lead/lin fm", "30 cm")!;
        string added = Assert.Single(text.Split('\n').Except(source.Text.Split('\n')));
        Assert.Equal("  - {from: fourth/saw, to: lead/lin fm, length: 30 cm}", added);
        Assert.Equal(source.Text, PatchText.TakeOut(SourceText.Of(text, source.File), 3));
    }

    [Fact]
    public void The_last_cord_takes_the_list_with_it_and_the_first_begins_one()
    {
        SourceText bare = SourceText.Of("voice: x\ncords:\n  - {from: keyboard/out, to: lead/pitch} # the only one\n# the end\n", "voice.yaml");
        string without = PatchText.TakeOut(bare, 0)!;
        Assert.Equal("voice: x\n# the end\n", without);
        Assert.Equal("voice: x\ncords:\n  - {from: wheel/out, to: lead/bend, length: 1 m}\n# the end\n", PatchText.PlugIn(SourceText.Of(without, "voice.yaml"), "wheel/out", "lead/bend", "1 m"));
    }

    [Fact]
    public void A_module_more_is_one_line_and_taking_it_out_gives_the_text_back()
    {
        SourceText source = Read("quartet");
        string text = MemberText.More(source, "fifth", "quartet-lead")!;
        Assert.Equal("  fifth: {module: quartet-lead}", Assert.Single(text.Split('\n').Except(source.Text.Split('\n'))));
        Assert.Equal(source.Text, MemberText.Without(SourceText.Of(text, source.File), new HashSet<string> { "fifth" }));
        Assert.Null(MemberText.More(source, "second", "quartet-lead"));
    }

    [Fact]
    public void A_header_hung_on_a_link_comes_last_on_its_ribbon_or_begins_one()
    {
        SourceText source = Read("quartet");
        string text = LinkText.HangOn(source, "lead/link", "fifth/link", "20 cm")!;
        Assert.Equal("  - {from: lead/link, to: [second/link, third/link, fourth/link, fifth/link], length: 12 cm, gauge: 28}", Assert.Single(text.Split('\n').Except(source.Text.Split('\n'))));
        Assert.Equal("  - {from: other/link, to: fifth/link, length: 20 cm}", Assert.Single(LinkText.HangOn(source, "other/link", "fifth/link", "20 cm")!.Split('\n').Except(source.Text.Split('\n'))));
        SourceText bare = SourceText.Of("voice: x\n# the end\n", "voice.yaml");
        Assert.Equal("voice: x\nribbons:\n  - {from: a/link, to: b/link, length: 20 cm}\n# the end\n", LinkText.HangOn(bare, "a/link", "b/link", "20 cm"));
        SourceText one = SourceText.Of("voice: x\nribbons:\n  - {from: a/link, to: b/link}\n", "voice.yaml");
        Assert.Equal("voice: x\nribbons:\n  - {from: a/link, to: [b/link, c/link]}\n", LinkText.HangOn(one, "a/link", "c/link", "20 cm"));
    }

    [Fact]
    public void Leads_and_headers_are_known_from_the_texts_alone()
    {
        using OwnCopy copy = new("quartet");
        DesignTexts texts = DesignTexts.Read(copy.Path);
        Assert.Equal(["lead/link"], LinkText.Leads(texts));
        Assert.Equal([("link", "follower")], LinkText.Headers(texts, "quartet-follower"));
        Assert.Empty(LinkText.Headers(texts, "nowhere"));
    }

    [Fact]
    public void A_lead_that_goes_takes_its_cords_and_its_ribbon_with_it()
    {
        SourceText source = Read("quartet");
        string text = MemberText.Without(source, new HashSet<string> { "lead" })!;
        Assert.DoesNotContain("lead/", text, StringComparison.Ordinal);
        Assert.DoesNotContain("ribbons", text, StringComparison.Ordinal);
        Assert.DoesNotContain("cords", text, StringComparison.Ordinal);
        Assert.Contains("  second: {module: quartet-follower}\n", text, StringComparison.Ordinal);
        Assert.Null(MemberText.Without(source, new HashSet<string> { "lead", "second", "third", "fourth" }));
    }

    private static SourceText Read(string example)
    {
        using OwnCopy copy = new(example);
        return DesignTexts.Read(copy.Path).Find(DesignTexts.VoiceFile)!;
    }
}
