using System.Text.Json;
using Microsoft.Playwright;
using Xunit;

namespace Consort.Workbench.Tests.Screens;

public sealed class FaultFindingTests(OpenBrowser open)
{
    private static string Figures => Path.Combine(OwnCopy.Root, "examples", "pair", "readings", "lead-0003-figures.csv");

    [Fact]
    public async Task Rows_of_the_test_places_are_given_to_fill_in_and_every_mistake_in_them_is_told_with_its_line()
    {
        await using WatchedPage page = await open.Page("measure");
        await page.Page.ClickAsync("#blank");
        await Assertions.Expect(page.Page.Locator("#figures")).ToHaveValueAsync(new System.Text.RegularExpressions.Regex("\nmean,\\+5 V,\n"));
        await page.Page.ClickAsync("#weigh");
        await Assertions.Expect(page.Page.Locator("#fault-finding [role=alert]")).ToContainTextAsync("holds no reading yet");
        await page.Page.FillAsync("#figures", "what,place,reading\nmean,+5 W,5 V\ncurrent,+15 V,33 V\nfrequency,4 V,\n");
        await page.Page.ClickAsync("#weigh");
        await Assertions.Expect(page.Page.Locator("#fault-finding [role=alert]")).ToHaveCountAsync(2);
        await Assertions.Expect(page.Page.Locator("#fault-finding [role=alert]").First).ToContainTextAsync("line 2: mean: nothing is known of '+5 W'");
    }

    [Fact]
    [Trait("Runs", "Long")]
    public async Task The_fault_that_the_screen_finds_is_the_verbs()
    {
        JsonElement told = await OpenBrowser.Json("diagnose", open.Copy.Path, "--unit", "pair-lead/0003", Figures);
        await using WatchedPage page = await open.Page("measure");
        await page.Page.FillAsync("#figures", await File.ReadAllTextAsync(Figures, TestContext.Current.CancellationToken));
        await page.Page.ClickAsync("#weigh");
        await page.Page.WaitForSelectorAsync("#explanations", new() { Timeout = 300_000 });
        if (Environment.GetEnvironmentVariable("CONSORT_LOOK") is { } place)
            await page.Page.ScreenshotAsync(new() { Path = Path.Combine(place, "fault-finding.png"), FullPage = true });
        JsonElement first = told.GetProperty("explanations")[0];
        Assert.Equal("R17 is 49.9 kΩ instead of 499 kΩ", first.GetProperty("fault").GetString());
        Assert.Equal([$"{100 * first.GetProperty("weight").GetDouble():0} %", first.GetProperty("fault").GetString()!], (await page.Cells("#explanations"))[0][..2]);
    }
}
