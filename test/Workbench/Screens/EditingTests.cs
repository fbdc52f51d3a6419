using Consort.Workbench.Folder;
using Consort.Workbench.Host;
using Consort.Workbench.Session;
using Consort.Workbench.Tests.Session;
using Microsoft.Playwright;
using Xunit;

namespace Consort.Workbench.Tests.Screens;

/// <summary>Changing a voice in the browser, on a folder of each test's own.</summary>
public sealed class EditingTests(OpenBrowser open) : IAsyncLifetime
{
    private const string Lead = "modules/pair-lead.yaml";

    private readonly OwnCopy copy = new("pair");
    private WorkbenchHost workbench = null!;

    public async ValueTask InitializeAsync() =>
        workbench = await WorkbenchHost.Open(copy.Path, 0, new SilentEngine(), new ClosedFolder(Path.Combine(copy.Path, "..", "data")));

    public async ValueTask DisposeAsync()
    {
        await workbench.DisposeAsync();
        copy.Dispose();
    }

    [Fact]
    public async Task A_changed_value_is_shown_before_it_is_saved_and_undone_and_saved()
    {
        await using WatchedPage page = await open.Elsewhere(workbench.Address + "voice?member=lead");
        string before = await File.ReadAllTextAsync(copy.At(Lead), TestContext.Current.CancellationToken);
        await Type(page, "R3 tolerance", "1%");
        await page.Page.ClickAsync("text=1 file changed");
        await Assertions.Expect(page.Page.Locator("tr.goes")).ToHaveCountAsync(1);
        await Assertions.Expect(page.Page.Locator("tr.comes code")).ToContainTextAsync("tolerance: 1%");
        Assert.Equal(before, await File.ReadAllTextAsync(copy.At(Lead), TestContext.Current.CancellationToken));
        await page.Page.ClickAsync("text=Undo");
        await Assertions.Expect(page.Page.Locator("main")).ToContainTextAsync("Nothing is changed");
        await page.Page.ClickAsync("text=Redo");
        await page.Page.ClickAsync("button:has-text('Save this file')");
        await Assertions.Expect(page.Page.Locator(".news")).ToContainTextAsync($"Saved: {Lead}");
        string after = await File.ReadAllTextAsync(copy.At(Lead), TestContext.Current.CancellationToken);
        Assert.Equal(1, before.Split('\n').Zip(after.Split('\n')).Count(pair => pair.First != pair.Second));
    }

    [Fact]
    public async Task A_follower_more_stands_in_the_table_and_one_fewer_gives_the_text_back()
    {
        await using WatchedPage page = await open.Elsewhere(workbench.Address + "voice?member=lead");
        await page.Page.ClickAsync("text=One follower more");
        await Assertions.Expect(page.Page.Locator("#members")).ToContainTextAsync("follower 2");
        await Assertions.Expect(page.Page.Locator("main")).ToContainTextAsync("2 on the link now");
        Assert.Equal(["second", "follower 2"], Consort.Engine.Circuit.Wiring.Followers.Of(workbench.Session.State.Design!.Voice));
        await page.Page.ClickAsync("text=One follower fewer");
        await Assertions.Expect(page.Page.Locator("main")).ToContainTextAsync("1 on the link now");
        Assert.Empty(workbench.Session.State.Unsaved);
        await Assertions.Expect(page.Page.Locator("text=One follower fewer")).ToBeDisabledAsync(); // the last stays
    }

    [Fact]
    public async Task A_cord_and_a_module_are_added_and_taken_out_by_hand_and_undone()
    {
        await using WatchedPage page = await open.Elsewhere(workbench.Address + "voice");
        string before = workbench.Session.State.Texts.Find("voice.yaml")!.Text;
        string from = (await page.Page.Locator("#cord-from option").Nth(1).TextContentAsync())!, to = (await page.Page.Locator("#cord-to option").Nth(1).TextContentAsync())!;
        await page.Page.SelectOptionAsync("#cord-from", from);
        await page.Page.SelectOptionAsync("#cord-to", to);
        await page.Page.ClickAsync("#cord-in");
        await Assertions.Expect(page.Page.Locator("#wires")).ToContainTextAsync(to);
        Assert.Contains($"from: {from}, to: {to}, length: 60 cm", workbench.Session.State.Texts.Find("voice.yaml")!.Text, StringComparison.Ordinal);
        Assert.False(workbench.Session.State.HasMistakes);
        await page.Page.ClickAsync($"[aria-label='Take out the cord from {from} to {to}']");
        await Assertions.Expect(page.Page.Locator("#wires")).Not.ToContainTextAsync(to);
        Assert.Equal(before, workbench.Session.State.Texts.Find("voice.yaml")!.Text);
        await page.Page.SelectOptionAsync("#module-design", "pair-follower");
        await page.Page.FillAsync("#module-name", "third");
        await page.Page.ClickAsync("#module-in");
        await Assertions.Expect(page.Page.Locator("#members")).ToContainTextAsync("third");
        await Assertions.Expect(page.Page.Locator("#wires")).ToContainTextAsync("third/couple"); // a follower that hangs on nothing would be a mistake
        Assert.DoesNotContain(workbench.Session.State.Errors, error => !error.IsNote);
        await page.Page.ClickAsync("text=Undo");
        await Assertions.Expect(page.Page.Locator("#members")).Not.ToContainTextAsync("third");
        Assert.Equal(before, workbench.Session.State.Texts.Find("voice.yaml")!.Text);
    }

    [Fact]
    public async Task A_part_is_added_like_another_joined_otherwise_and_taken_out_again()
    {
        await using WatchedPage page = await open.Elsewhere(workbench.Address + "voice?member=lead");
        string before = workbench.Session.State.Texts.Find(Lead)!.Text;
        await page.Page.SelectOptionAsync("#part-like", "R3");
        string name = await page.Page.InputValueAsync("#part-name");
        await page.Page.FillAsync("#part-resistor", "1M");
        await page.Page.FillAsync("#part-to", "0 V");
        await page.Page.FocusAsync("#part-name");
        await page.Page.ClickAsync("#part-in");
        ILocator row = page.Page.Locator($"tr[data-part={name}]");
        await Assertions.Expect(row).ToContainTextAsync("to 0 V");
        Assert.False(workbench.Session.State.HasMistakes);
        Consort.Engine.Design.Part added = workbench.Session.State.Design!.Voice.Members.Single(member => member.Name == "lead").Module.Circuit.Single(part => part.Name == name);
        Assert.Equal((1e6, 0.001), (added.Number("value"), added.Number("tolerance")));
        await row.Locator("button.plain").ClickAsync();
        await Type(page, $"{name} to", "nowhere"); // a net that only one part joins
        await Assertions.Expect(page.Page.Locator(".faults")).ToContainTextAsync("nowhere");
        await Type(page, $"{name} to", "0 V");
        await Assertions.Expect(page.Page.Locator(".faults .mistake")).ToHaveCountAsync(0);
        await page.Page.ClickAsync($"[aria-label='Take out {name}']");
        await Assertions.Expect(row).ToHaveCountAsync(0);
        Assert.Equal(before, workbench.Session.State.Texts.Find(Lead)!.Text);
    }

    [Fact]
    public async Task A_value_that_makes_no_sense_is_marked_where_it_stands_and_the_page_goes_on()
    {
        await using WatchedPage page = await open.Elsewhere(workbench.Address + "voice?member=lead");
        await Type(page, "R3 value", "100 mushrooms");
        ILocator field = page.Page.GetByLabel("R3 value", new() { Exact = true });
        await Assertions.Expect(field).ToHaveAttributeAsync("aria-invalid", "true");
        await Assertions.Expect(page.Page.Locator("tr[data-part=R3]")).ToContainTextAsync("100 mushrooms");
        await Assertions.Expect(page.Page.Locator(".faults")).ToContainTextAsync("last texts that held none");
        await Type(page, "R3 value", "100k");
        await Assertions.Expect(page.Page.Locator(".faults")).ToHaveCountAsync(0);
    }

    [Fact]
    public async Task The_last_good_result_stays_and_is_marked_as_old()
    {
        using OwnCopy own = new("pair");
        await using WorkbenchHost live = await WorkbenchHost.Open(own.Path, 0, new LiveEngine(Environment.ProcessorCount), new ClosedFolder(Path.Combine(own.Path, "..", "data")), TestContext.Current.CancellationToken);
        await using WatchedPage page = await open.Elsewhere(live.Address + "tracking");
        await page.Proved();
        ILocator old = page.Page.Locator(".standing .old");
        await Assertions.Expect(old).ToHaveCountAsync(0);
        string[][] before = await page.Cells("#readings");
        Assert.Null(live.Session.Set(new(Lead, "circuit", "R3", "resistor"), "100 mushrooms"));
        await Assertions.Expect(old).ToHaveTextAsync("before the last change");
        await Assertions.Expect(page.Page.Locator("main")).ToContainTextAsync("last texts that held none");
        Assert.Equal(before, await page.Cells("#readings"));
        live.Session.Undo();
        await page.Proved();
        await Assertions.Expect(old).ToHaveCountAsync(0);
    }

    [Fact]
    public async Task Two_tabs_share_the_texts_and_each_has_its_own_selection()
    {
        await using WatchedPage one = await open.Elsewhere(workbench.Address + "voice?member=lead");
        await using WatchedPage two = await open.Elsewhere(workbench.Address + "voice?member=second");
        await Type(one, "limit: drift", "11 cents");
        await Assertions.Expect(two.Page.GetByLabel("limit: drift")).ToHaveValueAsync("11 cents");
        await Assertions.Expect(two.Page.Locator("#members tr.chosen th")).ToHaveTextAsync("second");
        await Assertions.Expect(one.Page.Locator("#members tr.chosen th")).ToHaveTextAsync("lead");
    }

    [Fact]
    public async Task A_file_changed_by_another_editor_waits_for_a_choice()
    {
        await using WatchedPage page = await open.Elsewhere(workbench.Address + "voice");
        await Type(page, "limit: drift", "11 cents");
        string text = await File.ReadAllTextAsync(copy.At("voice.yaml"), TestContext.Current.CancellationToken);
        await File.WriteAllTextAsync(copy.At("voice.yaml"), text.Replace("drift: 20 cents", "drift: 9 cents", StringComparison.Ordinal), TestContext.Current.CancellationToken);
        await page.Page.ClickAsync("text=Choose which text stays");
        await page.Page.ClickAsync("text=Take the text on disk");
        await Assertions.Expect(page.Page.Locator(".news").First).ToContainTextAsync("taken from disk");
        Assert.Equal(9, workbench.Session.State.Design!.Voice.Limits.DriftCents);
    }

    [Fact]
    public async Task A_whole_text_is_changed_by_hand()
    {
        await using WatchedPage page = await open.Elsewhere(workbench.Address + "voice");
        await page.Page.ClickAsync("summary:has-text('voice.yaml')");
        ILocator box = page.Page.GetByLabel("Text of voice.yaml");
        string text = await box.InputValueAsync();
        await box.FillAsync(text.Replace("drift: 20 cents", "drift: 8 cents", StringComparison.Ordinal));
        await box.BlurAsync();
        await Assertions.Expect(page.Page.GetByLabel("limit: drift")).ToHaveValueAsync("8 cents");
    }

    private static async Task Type(WatchedPage page, string label, string value)
    {
        ILocator field = page.Page.GetByLabel(label, new() { Exact = true });
        await field.FillAsync(value);
        await field.PressAsync("Enter");
    }
}
