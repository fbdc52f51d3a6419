using System.Globalization;
using System.IO.Compression;
using System.Text.Json;
using System.Text.RegularExpressions;
using Consort.Engine.Quantities;
using Microsoft.Playwright;
using Xunit;

namespace Consort.Workbench.Tests.Screens;

/// <summary>What screens show and give out is what the command line prints and writes of the same folder.</summary>
public sealed class OutputScreensTests(OpenBrowser open) : IDisposable
{
    private readonly string folder = Directory.CreateTempSubdirectory("consort").FullName;

    public void Dispose() => Directory.Delete(folder, recursive: true);

    private static async Task<byte[]> Kept(WatchedPage page, string link)
    {
        IDownload download = await page.Page.RunAndWaitForDownloadAsync(() => page.Page.ClickAsync(link));
        return await File.ReadAllBytesAsync(await download.PathAsync(), TestContext.Current.CancellationToken);
    }

    private static async Task Shot(WatchedPage page, string name)
    {
        if (Environment.GetEnvironmentVariable("CONSORT_SHOTS") is not { } shots)
            return;
        await page.Page.ScreenshotAsync(new() { Path = Path.Combine(shots, $"{name}.png"), FullPage = true });
        await page.Page.EmulateMediaAsync(new() { ColorScheme = ColorScheme.Dark });
        await page.Page.ScreenshotAsync(new() { Path = Path.Combine(shots, $"{name}-dark.png"), FullPage = true });
    }

    // As the plot's read-out tells a line of the file: a minus, and none before a zero.
    private static (double Milliseconds, string Text) ReadOut(string line)
    {
        double[] values = [.. line.Split(',').Select(value => double.Parse(value, CultureInfo.InvariantCulture))];
        static string Shown(double value) => value.ToString("F3", CultureInfo.InvariantCulture).Replace("-0.000", "0.000", StringComparison.Ordinal).Replace('-', '−');
        return (1e3 * values[0], $"{Shown(1e3 * values[0])} ms: lead/sine {Shown(values[1])} V · second/pulse {Shown(values[2])} V");
    }

    private static Regex AnyOf(IEnumerable<string> texts) => new($"^({string.Join('|', texts.Select(text => text.Replace(".", "\\.", StringComparison.Ordinal)))})$");

    private async Task<(JsonElement Told, string Csv)> ToldSweep()
    {
        string csv = Path.Combine(folder, "scope.csv");
        return (await OpenBrowser.Json("scope", open.Copy.Path, "--show", "lead/sine, second/pulse", "--play", "2 V", "--csv", csv), csv);
    }

    private static async Task TakeSweep(WatchedPage page)
    {
        foreach (string first in (string[])["lead/triangle", "second/triangle"])
            await page.Page.GetByLabel(first, new() { Exact = true }).UncheckAsync();
        await page.Page.GetByLabel("lead/sine", new() { Exact = true }).CheckAsync();
        await page.Page.GetByLabel("second/pulse", new() { Exact = true }).CheckAsync();
        await page.Page.FillAsync("#scope-play", "2 V");
        await page.Page.ClickAsync("#scope-take");
        await page.Page.WaitForSelectorAsync("#scope-readings", new() { Timeout = 120_000 });
    }

    [Fact]
    public async Task A_sweep_has_the_readings_and_the_traces_that_the_scope_verb_gives()
    {
        (JsonElement told, string csv) = await ToldSweep();
        await using WatchedPage page = await open.Page("scope");
        await TakeSweep(page);
        string[][] rows = await page.Cells("#scope-readings");
        JsonElement[] traces = [.. told.GetProperty("traces").EnumerateArray()];
        Assert.Equal(traces.Length, rows.Length);
        foreach ((JsonElement trace, string[] row) in traces.Zip(rows))
        {
            double Of(string name) => trace.GetProperty(name).GetDouble();
            Assert.Equal([trace.GetProperty("name").GetString()!, QuantityText.Write(Of("hertz"), Dimension.Frequency, 6), $"{Of("highestVolts") - Of("lowestVolts"):0.0000}", $"{Of("meanVolts"):0.0000}", $"{Of("rmsVolts"):0.0000}"], row[..5]);
        }
        Assert.Equal(await File.ReadAllBytesAsync(csv, TestContext.Current.CancellationToken), await Kept(page, "text=Keep scope.csv"));
        await Shot(page, "scope");
    }

    [Fact]
    public async Task A_sweep_is_read_under_the_pointer_and_with_the_keys_and_zoomed_by_a_drag()
    {
        (JsonElement told, string csv) = await ToldSweep();
        (double Milliseconds, string Text)[] readings = [.. (await File.ReadAllLinesAsync(csv, TestContext.Current.CancellationToken)).Skip(1).Select(ReadOut)];
        double division = 1e3 * told.GetProperty("secondsPerDivision").GetDouble();
        Assert.Equal(5, division); // ms: three periods of 130.8 Hz fit into ten; the read-out tells a thousandth
        await using WatchedPage page = await open.Page("scope");
        await TakeSweep(page);
        await page.Page.WaitForSelectorAsync(".plot canvas");
        ILocator readout = page.Page.Locator(".readout"), over = page.Page.Locator(".plot .u-over");
        await over.ScrollIntoViewIfNeededAsync();
        LocatorBoundingBoxResult box = (await over.BoundingBoxAsync())!;
        Task Point(double share) => page.Page.Mouse.MoveAsync((float)(box.X + share * box.Width), box.Y + box.Height / 2, new() { Steps = 3 });
        Task Reads(double milliseconds, double near) => // one of the file's lines about there
            Assertions.Expect(readout).ToHaveTextAsync(AnyOf(readings.Where(reading => Math.Abs(reading.Milliseconds - milliseconds) <= near).Select(reading => reading.Text)));

        double pixel = 10 * division / box.Width, zoomed = 0.2 * pixel;
        await Point(0.55);
        await Reads(4.5 * division, 2 * pixel); // the trigger stands a division from the left
        await Point(0.4);
        await page.Page.Mouse.DownAsync();
        await Point(0.6);
        await page.Page.Mouse.UpAsync();
        await Point(0.95);
        await Reads(4.9 * division, 2 * zoomed + 0.02 * division); // readings lie a hundredth of a division apart, or closer
        await Shot(page, "scope-zoomed");
        await page.Page.Mouse.DblClickAsync((float)(box.X + 0.95 * box.Width), box.Y + box.Height / 2);
        await Point(0.9);
        await Reads(8 * division, 2 * pixel);

        await page.Page.FocusAsync(".plot");
        await page.Page.Keyboard.PressAsync("Home");
        await Assertions.Expect(readout).ToHaveTextAsync(readings[0].Text);
        await page.Page.Keyboard.PressAsync("ArrowRight");
        await Assertions.Expect(readout).Not.ToHaveTextAsync(readings[0].Text);
        await Reads(-division + pixel, 2 * pixel);
        await page.Page.Keyboard.PressAsync("End");
        await Assertions.Expect(readout).ToHaveTextAsync(readings[^1].Text);
    }

    [Fact]
    public async Task Wrong_words_of_a_sweep_are_told_all_at_once()
    {
        await using WatchedPage page = await open.Page("scope");
        await page.Page.FillAsync("#scope-more", "lead/swa");
        await page.Page.FillAsync("#scope-play", "H9");
        await page.Page.FillAsync("#scope-time", "5 V");
        await page.Page.ClickAsync("#scope-take");
        await Assertions.Expect(page.Page.Locator("fieldset [role=alert]")).ToHaveCountAsync(3);
    }

    [Fact]
    public async Task Parts_of_so_many_voices_cost_what_the_parts_verb_counts()
    {
        string csv = Path.Combine(folder, "parts.csv");
        JsonElement told = await OpenBrowser.Json("parts", open.Copy.Path, "--units", "5", "--csv", csv);
        await using WatchedPage page = await open.Page("parts");
        await page.Page.FillAsync("#parts-units", "5");
        await page.Page.Keyboard.PressAsync("Tab");
        await Assertions.Expect(page.Page.Locator("#parts-to-buy")).ToHaveTextAsync($"{told.GetProperty("toBuy").GetDouble():0.00}");
        Assert.Equal($"{told.GetProperty("voiceCost").GetDouble():0.00}", await page.Text("#parts-voice"));
        Assert.Equal(told.GetProperty("lines").GetArrayLength(), (await page.Cells(".parts-lines")).Count(row => row.Length > 1));
        Assert.Equal(await File.ReadAllBytesAsync(csv, TestContext.Current.CancellationToken), await Kept(page, "text=Keep parts.csv"));
        await Shot(page, "parts");
    }

    [Fact]
    public async Task Panels_give_out_the_files_that_the_panel_verb_writes()
    {
        JsonElement told = await OpenBrowser.Json("panel", open.Copy.Path, "--out", folder);
        await using WatchedPage page = await open.Page("panel");
        using ZipArchive archive = new(new MemoryStream(await Kept(page, "text=Keep all files")));
        string[] names = [.. told.GetProperty("files").EnumerateArray().Select(file => file.GetString()!)];
        Assert.Equal(names.Order(StringComparer.Ordinal), archive.Entries.Select(entry => entry.FullName).Order(StringComparer.Ordinal));
        foreach (ZipArchiveEntry entry in archive.Entries)
        {
            using MemoryStream content = new();
            await using (Stream stream = await entry.OpenAsync(TestContext.Current.CancellationToken))
                await stream.CopyToAsync(content, TestContext.Current.CancellationToken);
            Assert.Equal(await File.ReadAllBytesAsync(Path.Combine(folder, entry.FullName), TestContext.Current.CancellationToken), content.ToArray());
        }
        await Shot(page, "panel");
    }

    [Fact]
    public async Task The_pack_is_the_pack_verbs_to_the_byte()
    {
        await OpenBrowser.Json("pack", open.Copy.Path, "--out", Path.Combine(folder, "pair-pack"));
        await using WatchedPage page = await open.Page("pack");
        await page.Page.ClickAsync("#pack-make");
        await page.Page.WaitForSelectorAsync("#pack-keep", new() { Timeout = 120_000 });
        Assert.Equal(await File.ReadAllBytesAsync(Path.Combine(folder, "pair-pack.zip"), TestContext.Current.CancellationToken), await Kept(page, "#pack-keep"));
        await Shot(page, "pack");
    }

    [Fact]
    public async Task Files_that_nobody_made_are_not_found()
    {
        using HttpClient client = new();
        using HttpResponseMessage answer = await client.GetAsync(new Uri(open.Address + "made/0123/scope.svg"), TestContext.Current.CancellationToken);
        Assert.Equal(System.Net.HttpStatusCode.NotFound, answer.StatusCode);
    }
}
