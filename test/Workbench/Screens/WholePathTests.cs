using System.Globalization;
using System.IO.Compression;
using System.Text;
using System.Text.Json;
using Consort.Workbench.Folder;
using Consort.Workbench.Host;
using Consort.Workbench.Session;
using Microsoft.Playwright;
using UglyToad.PdfPig;
using Xunit;

namespace Consort.Workbench.Tests.Screens;

/// <summary>What somebody new does with a copied example, by what stands on the screens alone.</summary>
public sealed class WholePathTests(OpenBrowser open) : IAsyncLifetime
{
    private const string Lead = "modules/pair-lead.yaml";

    private readonly OwnCopy copy = new("pair");
    private WorkbenchHost workbench = null!;

    public async ValueTask InitializeAsync() =>
        workbench = await WorkbenchHost.Open(copy.Path, 0, new LiveEngine(Environment.ProcessorCount), new ClosedFolder(Path.Combine(copy.Path, "..", "data")));

    public async ValueTask DisposeAsync()
    {
        await workbench.DisposeAsync();
        copy.Dispose();
    }

    [Fact]
    public async Task A_changed_value_and_panel_are_proved_saved_and_packed()
    {
        await using WatchedPage page = await open.Elsewhere(workbench.Address);
        await page.Proved();
        await Change(page, "Voice", "R14 value", "54.2k");
        await page.Page.WaitForSelectorAsync(string.Create(CultureInfo.InvariantCulture, $"[data-kind-of-figures=Proved][data-revision='{workbench.Session.State.Revision}']"), new() { Timeout = 300_000 });
        string shown = await page.Text("[data-figure=tracking]");

        await Change(page, "Panel", "pair lead: J2 legend", "shift");
        await Change(page, "Panel", "pair lead: J2 from left", "39 mm");
        await Assertions.Expect(page.Page.Locator("main")).Not.ToContainTextAsync("✗");

        await page.Page.ClickAsync("header >> text=Save");
        await Assertions.Expect(page.Page.Locator(".news").First).ToContainTextAsync($"Saved: {Lead}");
        string text = await File.ReadAllTextAsync(copy.At(Lead), TestContext.Current.CancellationToken);
        Assert.Contains("R14: {resistor: 54.2k,", text, StringComparison.Ordinal);
        Assert.Contains("J2: {at: [39 mm, 150 mm], fits: jack 6.35 mm, legend: shift}", text, StringComparison.Ordinal);
        JsonElement claim = (await OpenBrowser.Json("prove", copy.Path)).GetProperty("claims").EnumerateArray().Single(one => one.GetProperty("key").GetString() == "tracking");
        Assert.Contains(claim.GetProperty("figure").GetDouble().ToString("0.00", CultureInfo.InvariantCulture), shown, StringComparison.Ordinal);

        await Pack(page, text);
    }

    // The archive that the browser keeps: its guide asks for the new part, its panel bears the new legend, its design is the saved one.
    private static async Task Pack(WatchedPage page, string text)
    {
        await page.Page.ClickAsync("nav a:text-is('Pack')");
        await page.Page.ClickAsync("#pack-make");
        await page.Page.WaitForSelectorAsync("#pack-keep", new() { Timeout = 120_000 });
        IDownload download = await page.Page.RunAndWaitForDownloadAsync(() => page.Page.ClickAsync("#pack-keep"));
        await using ZipArchive archive = await ZipFile.OpenReadAsync(await download.PathAsync(), TestContext.Current.CancellationToken);
        using PdfDocument guide = PdfDocument.Open(await Content(archive, "guide.pdf"));
        string words = string.Join(' ', guide.GetPages().SelectMany(one => one.GetWords()).Select(word => word.Text));
        Assert.Contains("resistor 54.2k", words, StringComparison.Ordinal);
        Assert.DoesNotContain("resistor 54.9k 0.1% 25 ppm/K axial, 0.25 W pair lead", words, StringComparison.Ordinal);
        Assert.Equal(text, Encoding.UTF8.GetString(await Content(archive, $"design/{Lead}")));
        Assert.Contains("X39.000Y80.000", Encoding.UTF8.GetString(await Content(archive, "panels/pair-lead-holes.xnc")), StringComparison.Ordinal); // 230 − 150 from below
    }

    private static async Task<byte[]> Content(ZipArchive archive, string name)
    {
        using MemoryStream content = new();
        await using Stream stream = await archive.Entries.Single(entry => entry.FullName.EndsWith(name, StringComparison.Ordinal)).OpenAsync(TestContext.Current.CancellationToken);
        await stream.CopyToAsync(content, TestContext.Current.CancellationToken);
        return content.ToArray();
    }

    private async Task Change(WatchedPage page, string screen, string label, string value)
    {
        await page.Page.ClickAsync($"nav a:text-is('{screen}')");
        await Assertions.Expect(page.Page.Locator("h1")).ToHaveTextAsync(screen);
        long before = workbench.Session.State.Revision;
        ILocator field = page.Page.GetByLabel(label, new() { Exact = true });
        await field.FillAsync(value);
        await field.PressAsync("Enter");
        for (int i = 0; i < 100 && workbench.Session.State.Revision == before; i++)
            await page.Page.WaitForTimeoutAsync(50);
    }
}
