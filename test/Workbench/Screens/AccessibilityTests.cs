using System.Text.Json;
using Consort.Workbench.Screens;
using Microsoft.Playwright;
using Xunit;

namespace Consort.Workbench.Tests.Screens;

public sealed class AccessibilityTests(OpenBrowser open)
{
    // axe-core 4.14.1 (test/Reference/axe-core), rules of WCAG 2.0 to 2.2, A and AA.
    private const string Run = "async () => JSON.stringify((await axe.run(document, { runOnly: ['wcag2a', 'wcag2aa', 'wcag21a', 'wcag21aa', 'wcag22aa'] })).violations.map(v => ({ id: v.id, impact: v.impact, nodes: v.nodes.map(n => n.html + ' ' + n.failureSummary) })))";

    private static readonly string Engine = Path.Combine(OwnCopy.Root, "test", "Reference", "axe-core", "axe.min.js");

    [Theory]
    [InlineData(ColorScheme.Light, 1280, 800)]
    [InlineData(ColorScheme.Dark, 1024, 768)]
    public async Task No_screen_has_a_serious_finding_nor_runs_over_its_side(ColorScheme scheme, int width, int height)
    {
        foreach (ScreenEntry screen in ScreenList.All)
        {
            await using WatchedPage page = await open.Page(screen.Path, scheme, width, height);
            await page.Proved();
            await Survey(page, screen.Path);
        }
    }

    // What a screen shows once it was asked, on a bench tablet either way up.
    [Theory]
    [InlineData("sound", "#sound-ready", "#sound-what")]
    [InlineData("scope", "#scope-take", "#scope-readings")]
    [InlineData("response?oscillator=lead&sheet=width", "#response-read", "main h2")]
    [InlineData("wiring", "button.first", "#ways")]
    [InlineData("pack", "#pack-make", "#pack-keep")]
    [InlineData("voice?member=lead", "tr[data-part=R3] button.plain", "tr[data-part=R3] td.joints")]
    public async Task No_screen_that_was_asked_has_a_serious_finding_nor_runs_over_its_side(string path, string press, string shows)
    {
        await using WatchedPage page = await open.Page(path, ColorScheme.Light, 1024, 768);
        await page.Proved();
        await page.Page.ClickAsync(press);
        await page.Page.WaitForSelectorAsync(shows, new() { Timeout = 300_000 });
        await Survey(page, path);
        await page.Page.EmulateMediaAsync(new() { ColorScheme = ColorScheme.Dark });
        await page.Page.SetViewportSizeAsync(768, 1024);
        await Survey(page, path);
    }

    private static async Task Survey(WatchedPage page, string path)
    {
        if (!await page.Page.EvaluateAsync<bool>("() => 'axe' in globalThis"))
            await page.Page.EvaluateAsync(await File.ReadAllTextAsync(Engine, TestContext.Current.CancellationToken));
        JsonElement[] found = [.. JsonDocument.Parse(await page.Page.EvaluateAsync<string>(Run)).RootElement.EnumerateArray()];
        Assert.DoesNotContain(found, one => one.GetProperty("impact").GetString() is "serious" or "critical" ? throw new Xunit.Sdk.XunitException($"{path}: {one}") : false);
        int width = page.Page.ViewportSize!.Width, wide = await page.Page.EvaluateAsync<int>("() => document.documentElement.scrollWidth");
        Assert.True(wide <= width, $"{path} is {wide} wide on {width}");
    }

    [Fact]
    public async Task Every_screen_is_reached_with_the_keyboard_alone()
    {
        await using WatchedPage page = await open.Page("changes");
        foreach (ScreenEntry screen in ScreenList.All)
        {
            ILocator link = page.Page.Locator($"nav a:text-is('{screen.Title}')");
            await link.FocusAsync();
            await page.Page.Keyboard.PressAsync("Enter");
            await Assertions.Expect(page.Page.Locator("h1")).ToHaveTextAsync(screen.Title);
            await Assertions.Expect(page.Page.Locator("h1")).ToBeFocusedAsync();
            await Assertions.Expect(link).ToHaveAttributeAsync("aria-current", "page");
        }
    }
}
