using System.Globalization;
using System.IO.Compression;
using System.Text;
using System.Text.Json;
using Microsoft.Playwright;
using Xunit;

namespace Consort.Workbench.Tests.Screens;

/// <summary>The same walk with a voice of another shape, without a link: another module and its cords, a slip, an editor beside the
/// browser, undo and redo, a link that somebody is sent.</summary>
[Trait("Runs", "Long")]
public sealed class PatchedPathTests(OpenBrowser open) : LiveExample("patched")
{
    private const string Module = "modules/patched-oscillator.yaml";

    [Fact]
    public async Task A_fifth_oscillator_is_added_by_hand_proved_beside_an_editor_saved_and_packed()
    {
        await using WatchedPage page = await open.Elsewhere(Workbench.Address);
        await Assertions.Expect(page.Page.Locator("h1")).ToHaveTextAsync("Voice");
        await AddFifth(page);
        await Slip(page);
        await Beside(page);
        await Walk.Proved(page, Workbench.Session);
        string shown = await page.Text("[data-figure=tracking]");

        await page.Page.ClickAsync("header >> text=Save");
        await Assertions.Expect(page.Page.Locator(".news").First).ToContainTextAsync("Saved: ");
        Assert.Empty(Workbench.Session.State.Unsaved);
        JsonElement claim = (await OpenBrowser.Json("prove", Copy.Path)).GetProperty("claims").EnumerateArray().Single(one => one.GetProperty("key").GetString() == "tracking");
        Assert.Contains(claim.GetProperty("figure").GetDouble().ToString("0.00", CultureInfo.InvariantCulture), shown, StringComparison.Ordinal);

        await using ZipArchive archive = await Walk.Pack(page);
        Assert.Contains("fifth: {module: patched-oscillator}", Encoding.UTF8.GetString(await Walk.Content(archive, "design/voice.yaml")), StringComparison.Ordinal);
        Assert.Contains("tempco: 40 ppm/K", Encoding.UTF8.GetString(await Walk.Content(archive, $"design/{Module}")), StringComparison.Ordinal);
        await SentLink(page);
    }

    // One of the four ways of the pitch's multiple is given to it; undo and redo take the steps back and again.
    private async Task AddFifth(WatchedPage page)
    {
        await page.Page.SelectOptionAsync("#module-design", "patched-oscillator");
        await page.Page.FillAsync("#module-name", "fifth");
        await page.Page.ClickAsync("#module-in");
        await Assertions.Expect(page.Page.Locator("#members")).ToContainTextAsync("fifth");
        await page.Page.ClickAsync("[aria-label='Take out fourth']");
        await Assertions.Expect(page.Page.Locator("#members")).Not.ToContainTextAsync("fourth");
        await page.Page.SelectOptionAsync("#cord-from", "pitch split/4");
        await page.Page.SelectOptionAsync("#cord-to", "fifth/pitch");
        await page.Page.ClickAsync("#cord-in");
        await Assertions.Expect(page.Page.Locator("#wires")).ToContainTextAsync("fifth/pitch");
        for (int i = 0; i < 3; i++)
            await page.Page.ClickAsync("header >> text=Undo");
        await Assertions.Expect(page.Page.Locator("header button:text-is('Undo')")).ToBeDisabledAsync();
        await Assertions.Expect(page.Page.Locator("#members")).ToContainTextAsync("fourth");
        Assert.Empty(Workbench.Session.State.Unsaved);
        for (int i = 0; i < 3; i++)
            await page.Page.ClickAsync("header >> text=Redo");
        await Assertions.Expect(page.Page.Locator("#wires")).ToContainTextAsync("fifth/pitch");
        Assert.False(Workbench.Session.State.HasMistakes);
    }

    // A value that makes no sense is marked where it stands; a part is given what it did not state, and so are the limits.
    private async Task Slip(WatchedPage page)
    {
        await page.Page.ClickAsync("#members a:text-is('first')");
        await Walk.Change(page, Workbench.Session, "Voice", "limit: yield", "a lot");
        await Assertions.Expect(page.Page.GetByLabel("limit: yield", new() { Exact = true })).ToHaveAttributeAsync("aria-invalid", "true");
        await Assertions.Expect(page.Page.Locator(".faults")).ToContainTextAsync("voice.yaml:");
        await Walk.Change(page, Workbench.Session, "Voice", "limit: yield", "95%");
        await Assertions.Expect(page.Page.Locator(".faults .mistake")).ToHaveCountAsync(0);
        Assert.Equal(0.95, Workbench.Session.State.Design!.Voice.Limits.Yield);
        Assert.Equal(0, await page.Page.GetByLabel("R3 tempco", new() { Exact = true }).CountAsync());
        await page.Page.ClickAsync("tr[data-part=R3] button");
        await Walk.Change(page, Workbench.Session, "Voice", "R3 tempco", "40 ppm/K");
        Assert.Contains("tempco: 40 ppm/K", Workbench.Session.State.Texts.Find(Module)!.Text, StringComparison.Ordinal);
    }

    // Another editor changes another line of the same file meanwhile: both stay.
    private async Task Beside(WatchedPage page)
    {
        string text = await File.ReadAllTextAsync(Copy.At("voice.yaml"), TestContext.Current.CancellationToken);
        await File.WriteAllTextAsync(Copy.At("voice.yaml"), text.Replace("slot resistance: 15 mΩ", "slot resistance: 14 mΩ", StringComparison.Ordinal), TestContext.Current.CancellationToken);
        await Assertions.Expect(page.Page.Locator(".news").First).ToContainTextAsync("voice.yaml");
        string both = Workbench.Session.State.Texts.Find("voice.yaml")!.Text;
        Assert.Contains("slot resistance: 14 mΩ", both, StringComparison.Ordinal);
        Assert.Contains("fifth/pitch", both, StringComparison.Ordinal);
        Assert.Contains("yield: 95%", both, StringComparison.Ordinal);
    }

    private async Task SentLink(WatchedPage page)
    {
        await Walk.To(page, "Tracking");
        await page.Page.ClickAsync("[aria-label=Oscillator] a:text-is('fifth')");
        await page.Page.ClickAsync("[aria-label=Temperature] a:text-is('35 °C')");
        await Assertions.Expect(page.Page.Locator("[aria-label=Temperature] a[aria-current]")).ToHaveTextAsync("35 °C");
        await using WatchedPage other = await open.Elsewhere(page.Page.Url);
        await Assertions.Expect(other.Page.Locator("[aria-label=Oscillator] a[aria-current]")).ToHaveTextAsync("fifth");
        await Assertions.Expect(other.Page.Locator("[data-chart] figcaption").First).ToContainTextAsync("35 °C");
    }
}
