using System.Globalization;
using System.Text.Json;
using Consort.Engine.Documents;
using Microsoft.Playwright;
using Xunit;

namespace Consort.Workbench.Tests.Screens;

/// <summary>What an oscillator does when it is modulated, on screen.</summary>
public sealed class ResponseScreenTests(OpenBrowser open)
{
    [Fact]
    public async Task Sheets_have_the_figures_that_the_respond_verb_gives_and_a_link_brings_them_back()
    {
        JsonElement told = (await OpenBrowser.Json("respond", open.Copy.Path, "--oscillator", "second")).GetProperty("oscillators")[0];
        await using WatchedPage page = await open.Page("response");
        await page.Page.ClickAsync("[aria-label=Oscillator] a:text-is('second')");
        await page.Page.ClickAsync("#response-read");
        await page.Page.WaitForSelectorAsync("table[data-table=levels]", new() { Timeout = 300_000 });

        string[][] levels = await page.Cells("table[data-table=levels]");
        JsonElement[] sheets = [.. told.GetProperty("levels").EnumerateArray()];
        Assert.Equal(sheets.Select(sheet => sheet.GetProperty("output").GetString()), levels.Select(row => row[0]));
        foreach ((JsonElement sheet, string[] row) in sheets.Zip(levels))
            Assert.Equal(sheet.GetProperty("points").EnumerateArray().Select(point => $"{Number(point, "peakToPeakVolts"):0.00} V"), row[1..6]);

        string[][] depths = await page.Cells("table[data-table=depths]");
        JsonElement[] sines = [.. told.GetProperty("frequencies")[0].GetProperty("depths").EnumerateArray()];
        Assert.Equal(sines.Select(sine => Figures.SignedCents(Number(sine, "shiftCents")).Replace('-', '−')), depths.Select(row => row[3]).Take(sines.Length));

        await page.Page.Locator("figure[data-chart^=width] summary").First.ClickAsync();
        string[][] width = await page.Cells("figure[data-chart^=width] details[open] table");
        JsonElement first = told.GetProperty("widths")[0];
        string[] highs = [.. first.GetProperty("points").EnumerateArray().Select(point => (100 * Number(point, "high")).ToString("F2", CultureInfo.InvariantCulture))];
        string[] shown = [.. width.Select(row => row[1])];
        Assert.All(highs, high => Assert.Contains(high, shown));

        if (Environment.GetEnvironmentVariable("CONSORT_SHOTS") is { } shots)
            await Shots(page.Page, shots);
        // The address alone says what is looked at; another tab finds what was read.
        Assert.Contains("oscillator=second", page.Page.Url, StringComparison.Ordinal);
        await using WatchedPage again = await open.Page("response?oscillator=second");
        await Assertions.Expect(again.Page.Locator("#response-second")).ToBeVisibleAsync();
        await Assertions.Expect(again.Page.Locator("[aria-label=Oscillator] a[aria-current]")).ToHaveTextAsync("second");
    }

    [Fact]
    public async Task Wrong_words_are_told_all_at_once_and_nothing_is_read()
    {
        await using WatchedPage page = await open.Page("response?sheet=levels");
        await page.Page.FillAsync("#response-play", "H9");
        await page.Page.FillAsync("#response-set", "lead/P99=3");
        await page.Page.ClickAsync("#response-read");
        await Assertions.Expect(page.Page.Locator("main [role=alert]")).ToHaveCountAsync(2);
    }

    private static double Number(JsonElement of, string name) => of.GetProperty(name) is { ValueKind: JsonValueKind.Number } number ? number.GetDouble() : double.NaN;

    private static async Task Shots(IPage page, string folder)
    {
        await page.ScreenshotAsync(new() { Path = Path.Combine(folder, "response-sheets.png"), FullPage = true });
        await page.EmulateMediaAsync(new() { ColorScheme = ColorScheme.Dark });
        await page.WaitForTimeoutAsync(300);
        await page.ScreenshotAsync(new() { Path = Path.Combine(folder, "response-sheets-dark.png"), FullPage = true });
        await page.PdfAsync(new() { Path = Path.Combine(folder, "response-sheets.pdf"), Format = "A4", PrintBackground = true });
        await page.EmulateMediaAsync(new() { ColorScheme = ColorScheme.Light });
        await page.SetViewportSizeAsync(1024, 768);
        await page.WaitForTimeoutAsync(300);
        Assert.True(await page.EvaluateAsync<int>("() => document.documentElement.scrollWidth") <= 1024);
    }
}
