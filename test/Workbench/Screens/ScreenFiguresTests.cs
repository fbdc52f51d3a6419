using System.Globalization;
using System.Text.Json;
using Consort.Engine.Documents;
using Consort.Engine.Quantities;
using Microsoft.Playwright;
using Xunit;

namespace Consort.Workbench.Tests.Screens;

/// <summary>What a screen shows is what the command line prints of the same folder.</summary>
public sealed class ScreenFiguresTests(OpenBrowser open)
{
    [Fact]
    public async Task Tracking_shows_every_reading_of_the_proof()
    {
        await using WatchedPage page = await open.Page("tracking");
        await page.Proved();
        JsonElement[] curves = [.. (await open.Proof).GetProperty("tracking").EnumerateArray()];
        string[][] rows = await page.Cells("#readings");
        Assert.Equal(curves.Length, rows.Length);
        foreach (JsonElement curve in curves)
        {
            string[] row = Assert.Single(rows, row => row[0] == Text(curve, "oscillator") && row[1] == Figures.Celsius(Number(curve, "kelvin")));
            Assert.Equal(curve.GetProperty("points").EnumerateArray().Select(point => Signed(Number(point, "cents"))), row[2..]);
        }
    }

    [Fact]
    public async Task Each_claim_of_the_proof_stands_with_its_figure_verdict_and_reasons()
    {
        await using WatchedPage page = await open.Page("tracking");
        await page.Proved();
        foreach (JsonElement claim in (await open.Proof).GetProperty("claims").EnumerateArray())
        {
            ILocator shown = page.Page.Locator($"details[data-claim='{Text(claim, "key")}']");
            string summary = await shown.Locator("summary").InnerTextAsync();
            Assert.Contains(Figures.WithUnit(Number(claim, "figure"), Text(claim, "unit")), summary, StringComparison.Ordinal);
            Assert.Contains(claim.GetProperty("passed").GetBoolean() ? "✓ pass" : "✗ MISS", summary, StringComparison.Ordinal);
            await shown.Locator("summary").ClickAsync();
            string first = claim.GetProperty("why").GetProperty("children").EnumerateArray().Select(child => Text(child, "text")).FirstOrDefault("");
            Assert.Contains(first.Split('/')[^1].Split(':')[0], await shown.InnerTextAsync(), StringComparison.Ordinal);
        }
    }

    [Fact]
    public async Task The_plot_is_read_with_the_arrow_keys_and_kept_as_numbers_with_every_digit()
    {
        await using WatchedPage page = await open.Page("tracking?at=35&oscillator=second");
        await page.Proved();
        JsonElement curve = (await open.Proof).GetProperty("tracking").EnumerateArray().Single(one => Text(one, "oscillator") == "second" && Math.Round(Number(one, "kelvin") - 273.15) == 35);
        JsonElement[] points = [.. curve.GetProperty("points").EnumerateArray()];
        await page.Page.FocusAsync(".plot");
        await page.Page.WaitForSelectorAsync(".plot canvas");
        await page.Page.Keyboard.PressAsync("ArrowRight");
        await page.Page.Keyboard.PressAsync("ArrowRight");
        string cents = Number(points[1], "cents").ToString("F3", CultureInfo.InvariantCulture).Replace('-', '−');
        await Assertions.Expect(page.Page.Locator(".readout")).ToHaveTextAsync($"{Number(points[1], "controlVolts"):F2} V: second {cents} cents");

        IDownload kept = await page.Page.RunAndWaitForDownloadAsync(() => page.Page.ClickAsync("button[aria-label^='Keep as CSV']"));
        string[] lines = await File.ReadAllLinesAsync(await kept.PathAsync(), TestContext.Current.CancellationToken);
        Assert.Equal(points.Select(point => $"{Number(point, "controlVolts"):R},{Number(point, "cents"):R}"), lines[1..]);
        kept = await page.Page.RunAndWaitForDownloadAsync(() => page.Page.ClickAsync("button[aria-label^='Keep as SVG']"));
        Assert.Equal("svg", System.Xml.Linq.XDocument.Load(await kept.PathAsync()).Root!.Name.LocalName);
        kept = await page.Page.RunAndWaitForDownloadAsync(() => page.Page.ClickAsync("button[aria-label^='Keep as PNG']"));
        Assert.Equal([0x89, (byte)'P', (byte)'N', (byte)'G'], (await File.ReadAllBytesAsync(await kept.PathAsync(), TestContext.Current.CancellationToken))[..4]);
    }

    [Fact]
    public async Task The_plot_is_read_under_the_pointer_and_zoomed_by_a_drag()
    {
        await using WatchedPage page = await open.Page("tracking?oscillator=second");
        await page.Proved();
        await page.Page.WaitForSelectorAsync(".plot canvas");
        ILocator readout = page.Page.Locator(".readout"), over = page.Page.Locator(".plot .u-over");
        await over.ScrollIntoViewIfNeededAsync();
        LocatorBoundingBoxResult box = (await over.BoundingBoxAsync())!;
        float middle = box.Y + box.Height / 2;
        float At(double volts) => (float)(box.X + volts / 9 * box.Width);
        await page.Page.Mouse.MoveAsync(At(3.1), middle);
        await Assertions.Expect(readout).ToContainTextAsync("3.00 V: second ");
        await page.Page.Mouse.MoveAsync(At(3.9), middle);
        await page.Page.Mouse.DownAsync();
        await page.Page.Mouse.MoveAsync(At(6.1), middle, new() { Steps = 5 });
        await page.Page.Mouse.UpAsync();
        await page.Page.Mouse.MoveAsync(At(8.9), middle); // of 3.9 to 6.1 V what is near the right side
        await Assertions.Expect(readout).ToContainTextAsync("6.00 V: second ");
        await page.Page.ClickAsync("button:text-is('Whole range')");
        await page.Page.Mouse.MoveAsync(At(8.9), middle);
        await Assertions.Expect(readout).ToContainTextAsync("9.00 V: second ");
    }

    [Fact]
    public async Task Builds_shows_yield_and_limits_and_leads_to_the_worst_build()
    {
        await using WatchedPage page = await open.Page("builds");
        await page.Proved();
        JsonElement spread = (await open.Proof).GetProperty("spread");
        Assert.Equal(Share(spread.GetProperty("yield")), await page.Text("#yield b"));
        string[][] rows = await page.Cells("#limits");
        JsonElement[] figures = [.. spread.GetProperty("figures").EnumerateArray()];
        for (int i = 0; i < figures.Length; i++)
            Assert.Equal(
                [.. new[] { "limitCents", "medianCents", "mostCents", "worstCents" }.Select(name => Figures.CentsOrNone(Number(figures[i], name))), Share(figures[i].GetProperty("kept"))],
                rows[i][1..6]
            );
        long worst = spread.GetProperty("worst")[0].GetProperty("build").GetInt64();
        await page.Page.ClickAsync($"a[aria-label='Look at build {worst}']");
        await page.Page.WaitForSelectorAsync("#readings", new() { Timeout = 300_000 });
        Assert.Contains($"build={worst}", page.Page.Url, StringComparison.Ordinal);
        JsonElement build = await OpenBrowser.Json("prove", open.Copy.Path, "--build", $"{worst}");
        string[][] readings = await page.Cells("#readings");
        JsonElement curve = build.GetProperty("tracking")[0];
        string[] row = readings.First(row => row[0] == Text(curve, "oscillator") && row[1] == "25 °C");
        Assert.Equal(curve.GetProperty("points").EnumerateArray().Select(point => Signed(Number(point, "cents"))), row[2..].Select(cell => cell.TrimEnd('!', ' ')));
    }

    [Fact]
    public async Task Chain_shows_what_each_number_of_followers_does()
    {
        await using WatchedPage page = await open.Page("chain");
        await page.Proved();
        JsonElement[] points = [.. (await open.Proof).GetProperty("chain").GetProperty("points").EnumerateArray()];
        string[][] rows = await page.Cells("#chain");
        Assert.Equal(points.Select(point => $"{point.GetProperty("followers").GetInt32()}"), rows.Select(row => row[0]));
        Assert.Equal(points.Select(point => Figures.PageCents(Number(point, "worstCents"))), rows.Select(row => row[1]));
        Assert.Equal(points.Select(point => point.GetProperty("passed").GetBoolean()), rows.Select(row => row[7].StartsWith('✓')));
    }

    [Fact]
    public async Task Wiring_finds_the_ways_that_plan_finds()
    {
        await using WatchedPage page = await open.Page("wiring");
        await page.Page.ClickAsync("button.first");
        await page.Page.WaitForSelectorAsync("#ways", new() { Timeout = 300_000 });
        JsonElement[] ways = [.. (await OpenBrowser.Json("plan", open.Copy.Path)).GetProperty("alternatives").EnumerateArray()];
        string[][] rows = await page.Cells("#ways");
        Assert.Equal(ways.Select(way => Text(way, "name")), rows.Select(row => row[1].Replace(" (as it is now)", "", StringComparison.Ordinal)));
        Assert.Equal(ways.Select(way => $"{Number(way, "widthMm"):0} mm"), rows.Select(row => row[2]));
        // The pair's voice is one of its own ways: a lead with one follower on its link.
        Assert.Equal("1 × pair lead, 1 follower on its link (as it is now)", Assert.Single(rows, row => row[1].EndsWith("(as it is now)", StringComparison.Ordinal))[1]);
        await Assertions.Expect(page.Page.Locator("#ways tr.chosen")).ToContainTextAsync("as it is now");
        await page.Page.ClickAsync("#ways tbody tr:last-child a");
        await Assertions.Expect(page.Page.Locator("h2").First).ToContainTextAsync(Text(ways[^1], "name"));
        Assert.Contains($"way={ways.Length}", page.Page.Url, StringComparison.Ordinal);
    }

    [Fact]
    public async Task Finding_ways_is_stopped_by_hand_and_the_page_says_so()
    {
        await using WatchedPage page = await open.Page("wiring");
        await page.Page.ClickAsync("text=With yield and lock range");
        await page.Page.ClickAsync("main button:text-is('Stop')");
        await Assertions.Expect(page.Page.Locator("main")).ToContainTextAsync("Stopped.");
        await Assertions.Expect(page.Page.Locator("main progress")).ToHaveCountAsync(0);
    }

    private static string Text(JsonElement of, string name) => of.GetProperty(name).GetString()!;

    private static double Number(JsonElement of, string name) => of.GetProperty(name) is { ValueKind: JsonValueKind.Number } number ? number.GetDouble() : double.NaN;

    private static string Signed(double cents) => Figures.PageCents(cents);

    private static string Share(JsonElement interval) => ShareText.Write(Number(interval, "share"));
}
