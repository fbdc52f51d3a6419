using System.Globalization;
using Consort.Workbench.Screens;
using Microsoft.Playwright;
using Xunit;

namespace Consort.Workbench.Tests.Screens;

/// <summary>Pictures of every screen of the quartet, to be looked at: CONSORT_SHOTS names the folder that they go to, light, dark
/// and as printed; CONSORT_GOLDEN=write puts that of the front page's example into docs/pictures.</summary>
[Trait("Runs", "Long")]
public sealed class PictureTests(OpenBrowser open) : LiveQuartet
{
    [Fact]
    public async Task Every_screen_stands_on_a_bench_tablet_without_scrolling_sideways()
    {
        await using WatchedPage page = await open.Elsewhere(Workbench.Address + "tracking");
        await page.Proved();
        foreach (ScreenEntry screen in ScreenList.All)
            foreach ((int width, int height) in ((int, int)[])[(1280, 800), (1024, 768), (768, 1024)])
            {
                await page.Page.SetViewportSizeAsync(width, height);
                await page.Page.GotoAsync(Workbench.Address + screen.Path + (screen.Path == "response" ? "?oscillator=lead&sheet=width" : ""));
                await page.Page.WaitForSelectorAsync("main h1");
                await page.Page.WaitForTimeoutAsync(400); // charts are drawn after the page
                int wide = await page.Page.EvaluateAsync<int>("() => document.documentElement.scrollWidth");
                Assert.True(wide <= width, string.Create(CultureInfo.InvariantCulture, $"{screen.Path} is {wide} wide on {width}"));
                if (width == 1280)
                {
                    await Work(page.Page, screen.Path);
                    await Take(page.Page, screen.Path);
                }
            }
    }

    // What a screen shows once it was asked.
    private static async Task Work(IPage page, string name)
    {
        (string? press, string? shows) = name switch
        {
            "scope" => ("#scope-take", "#scope-readings"),
            "sound" => ("#sound-ready", "#sound-what"),
            "wiring" => (".first", "#ways"),
            "response" => ("#response-read", "main h2"),
            "pack" => ("#pack-make", "#pack-keep"),
            _ => default((string?, string?)),
        };
        if (name == "changes")
        {
            await page.ClickAsync("nav a:text-is('Voice')");
            await page.GetByLabel("R3 tolerance", new() { Exact = true }).FillAsync("1%");
            await page.Keyboard.PressAsync("Enter");
            await page.ClickAsync("nav a:text-is('Changes')");
            (press, shows) = (null, "tr.goes");
        }
        if (press is not null)
            await page.ClickAsync(press);
        if (shows is not null)
            await page.WaitForSelectorAsync(shows, new() { Timeout = 120_000 });
        await page.WaitForTimeoutAsync(400);
    }

    private static async Task Take(IPage page, string name)
    {
        if (name == "tracking" && Environment.GetEnvironmentVariable("CONSORT_GOLDEN") == "write")
            await page.ScreenshotAsync(new() { Path = Path.Combine(OwnCopy.Root, "docs", "pictures", "workbench-tracking.png") });
        if (Environment.GetEnvironmentVariable("CONSORT_SHOTS") is not { } shots)
            return;
        await page.ScreenshotAsync(new() { Path = Path.Combine(shots, $"{name}.png"), FullPage = true });
        await page.EmulateMediaAsync(new() { ColorScheme = ColorScheme.Dark });
        await page.WaitForTimeoutAsync(300);
        await page.ScreenshotAsync(new() { Path = Path.Combine(shots, $"{name}-dark.png"), FullPage = true });
        await page.PdfAsync(new() { Path = Path.Combine(shots, $"{name}.pdf"), Format = "A4", PrintBackground = true });
        await page.EmulateMediaAsync(new() { ColorScheme = ColorScheme.Light });
    }
}
