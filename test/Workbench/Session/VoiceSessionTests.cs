using Consort.Workbench.Session;
using Xunit;

namespace Consort.Workbench.Tests.Session;

public sealed class VoiceSessionTests : IDisposable
{
    private const string Lead = "modules/pair-lead.yaml";

    private static readonly TextPlace Tolerance = new("modules/pair-lead.yaml", "circuit", "R3", "tolerance");

    private readonly OpenCopy open = new();

    private VoiceSession Session => open.Session;

    public void Dispose() => open.Dispose();

    [Fact]
    public void A_changed_value_leaves_every_other_character_as_it_was()
    {
        string before = open.OnDisk(Lead);
        Assert.Equal("0.1%", Tolerance.In(Session.State.Texts));
        Assert.Null(Session.Set(Tolerance, "1%"));
        string line = before.Split('\n').Single(text => text.StartsWith("  R3:", StringComparison.Ordinal));
        string changed = line.Replace("tolerance: 0.1%", "tolerance: 1%", StringComparison.Ordinal);
        Assert.NotEqual(line, changed);
        Assert.Equal(before.Replace(line, changed, StringComparison.Ordinal), Session.State.Texts.Find(Lead)!.Text);
        Assert.Equal(before, open.OnDisk(Lead));
        Assert.Equal([Lead], Session.State.Unsaved);
        Assert.Equal(0.01, Session.State.Design!.Voice.Members[0].Module.Circuit.Single(part => part.Name == "R3").Number("tolerance"), 12);
    }

    [Fact]
    public void Saving_writes_the_changed_files_and_no_others()
    {
        DateTime stock = File.GetLastWriteTimeUtc(open.Copy.At("stock.yaml"));
        Session.Set(Tolerance, "1%");
        Assert.Null(Session.Save());
        Assert.Equal(Session.State.Texts.Find(Lead)!.Text, open.OnDisk(Lead));
        Assert.Empty(Session.State.Unsaved);
        Assert.Equal(stock, File.GetLastWriteTimeUtc(open.Copy.At("stock.yaml")));
    }

    [Fact]
    public void Undo_and_redo_walk_through_the_texts_byte_by_byte()
    {
        List<string> texts = [Session.State.Texts.Find(Lead)!.Text];
        foreach (string value in new[] { "1%", "2%", "0.5%" })
        {
            Session.Set(Tolerance, value);
            texts.Add(Session.State.Texts.Find(Lead)!.Text);
        }
        for (int i = 2; i >= 0; i--)
        {
            Session.Undo();
            Assert.Equal(texts[i], Session.State.Texts.Find(Lead)!.Text);
        }
        Assert.Equal((0, 3), (Session.State.Undoable, Session.State.Redoable));
        Session.Redo();
        Session.Redo();
        Assert.Equal(texts[2], Session.State.Texts.Find(Lead)!.Text);
        Session.Set(Tolerance, "5%");
        Assert.Equal(0, Session.State.Redoable);
    }

    [Fact]
    public void A_mistake_is_told_where_it_stands_and_the_last_good_design_stays()
    {
        ReadDesign good = Session.State.Design!;
        Session.Set(new(Lead, "circuit", "R3", "resistor"), "100 mushrooms");
        Assert.True(Session.State.HasMistakes);
        Assert.Same(good, Session.State.Design);
        Assert.Contains(Session.State.Errors, error => error.At.File == Lead && error.What.Contains("100 mushrooms", StringComparison.Ordinal));
        Session.Undo();
        Assert.False(Session.State.HasMistakes);
    }

    [Fact]
    public void A_place_that_is_not_there_is_refused_and_changes_nothing()
    {
        Assert.NotNull(Session.Set(new(Lead, "circuit", "R999", "tolerance"), "1%"));
        Assert.NotNull(Session.Set(new("modules/none.yaml", "module"), "x"));
        Assert.NotNull(Session.Set(new(Lead, "circuit", "R3"), "1%")); // a map stands there
        Assert.Equal(0, Session.State.Undoable);
    }

    [Fact]
    public void What_an_editor_changes_on_disk_is_taken_in()
    {
        open.WriteOnDisk("voice.yaml", "drift: 20 cents", "drift: 12 cents");
        Session.LookAtDisk();
        Assert.Equal(12, Session.State.Design!.Voice.Limits.DriftCents);
        Assert.Empty(Session.State.Unsaved);
        Assert.Contains("voice.yaml", Session.State.News, StringComparison.Ordinal);
    }

    [Fact]
    public void Changes_here_and_on_disk_that_lie_apart_are_both_kept()
    {
        Session.Set(Tolerance, "1%");
        open.WriteOnDisk(Lead, "  height: 230 mm", "  height: 230 mm # of the row");
        Assert.Null(Session.Save());
        Assert.Contains("# of the row", open.OnDisk(Lead), StringComparison.Ordinal);
        Assert.Equal("1%", Tolerance.In(Session.State.Texts));
        Assert.Equal(Session.State.Texts.Find(Lead)!.Text, open.OnDisk(Lead));
    }

    [Theory]
    [InlineData(true)]
    [InlineData(false)]
    public void Changes_of_the_same_line_wait_for_a_choice_and_nothing_is_written_before(bool keepOwn)
    {
        string line = open.OnDisk(Lead).Split('\n').Single(text => text.StartsWith("  R3:", StringComparison.Ordinal));
        Session.Set(Tolerance, "1%");
        open.WriteOnDisk(Lead, line, line + " # looked at");
        string theirs = open.OnDisk(Lead);
        Assert.NotNull(Session.Save());
        Assert.Equal(theirs, open.OnDisk(Lead));
        Assert.Equal(Lead, Assert.Single(Session.State.Conflicts).File);
        Session.Resolve(Lead, keepOwn);
        Assert.Empty(Session.State.Conflicts);
        Assert.Null(Session.Save());
        Assert.Equal(!keepOwn, open.OnDisk(Lead) == theirs);
        if (!keepOwn)
            Session.Undo();
        Assert.Equal("1%", Tolerance.In(Session.State.Texts)); // the own text is never gone
    }

    [Fact]
    public void A_module_that_appears_on_disk_is_read_and_one_that_goes_is_dropped()
    {
        File.Copy(open.Copy.At(Lead), open.Copy.At("modules/spare.yaml"));
        Session.LookAtDisk();
        Assert.NotNull(Session.State.Texts.Find("modules/spare.yaml"));
        File.Delete(open.Copy.At("modules/spare.yaml"));
        Session.LookAtDisk();
        Assert.Null(Session.State.Texts.Find("modules/spare.yaml"));
        Session.Undo(); // has nothing to take back there, and harms nothing
        Assert.NotNull(Session.State.Design);
    }

    [Fact]
    public void A_huge_text_too_many_modules_and_a_deep_one_are_told_and_what_was_good_stays()
    {
        static string[] Codes(VoiceSession session) => [.. session.State.Errors.Where(error => !error.IsNote).Select(error => error.Code).Distinct()];
        File.WriteAllText(open.Copy.At(Lead), "a: " + new string('x', 5_000_000));
        Session.LookAtDisk();
        Assert.Contains("C005", Codes(Session));
        Assert.NotNull(Session.State.Design); // of the texts before
        File.WriteAllText(open.Copy.At(Lead), new string('[', 200_000));
        Session.LookAtDisk();
        Assert.NotEmpty(Codes(Session));
        for (int i = 0; i < 250; i++)
            File.WriteAllText(open.Copy.At($"modules/spare-{i}.yaml"), "module: spare\n");
        Session.LookAtDisk();
        Assert.Contains(Session.State.Errors, error => error.What == "more than 200 modules");
        using VoiceSession later = open.Again();
        Assert.Contains(later.State.Errors, error => error.What == "more than 200 modules");
    }

    [Fact]
    public void A_later_run_brings_back_what_was_not_saved()
    {
        Session.Set(Tolerance, "1%");
        using (VoiceSession later = open.Again())
        {
            Assert.Equal("1%", Tolerance.In(later.State.Texts));
            Assert.Equal([Lead], later.State.Unsaved);
            later.Undo();
            Assert.Equal("0.1%", Tolerance.In(later.State.Texts));
        }
        using VoiceSession after = open.Again();
        Assert.Empty(after.State.Unsaved);
    }

    [Fact]
    public void Saved_changes_are_not_brought_back()
    {
        Session.Set(Tolerance, "1%");
        Session.Save();
        using VoiceSession later = open.Again();
        Assert.Empty(later.State.Unsaved);
        Assert.Equal(0, later.State.Undoable);
    }

    [Fact]
    public void A_file_that_cannot_be_written_keeps_its_changes_here_and_says_so()
    {
        Assert.SkipWhen(OperatingSystem.IsWindows(), "rights are set another way there");
        Session.Set(Tolerance, "1%");
        Directory.Move(open.Copy.At("modules"), open.Copy.At("elsewhere"));
        File.CreateSymbolicLink(open.Copy.At("modules"), open.Copy.At("elsewhere"));
        Assert.NotNull(Session.Save());
        Assert.Contains("tolerance: 0.1%", File.ReadAllText(open.Copy.At("elsewhere/pair-lead.yaml")), StringComparison.Ordinal);
    }
}
