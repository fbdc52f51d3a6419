using System.Globalization;
using System.IO.Compression;
using System.Text;
using System.Text.Json;
using Microsoft.Playwright;
using UglyToad.PdfPig;
using Xunit;

namespace Consort.Workbench.Tests.Screens;

/// <summary>What somebody new does with a copied example, by what stands on the screens alone.</summary>
public sealed class WholePathTests(OpenBrowser open) : LiveExample("pair")
{
    private const string Lead = "modules/pair-lead.yaml";

    [Fact]
    public async Task A_changed_value_and_panel_are_proved_saved_and_packed()
    {
        await using WatchedPage page = await open.Elsewhere(Workbench.Address);
        await page.Proved();
        await Walk.Change(page, Workbench.Session, "Voice", "R14 value", "54.2k");
        await Walk.Proved(page, Workbench.Session);
        string shown = await page.Text("[data-figure=tracking]");

        await Walk.Change(page, Workbench.Session, "Panel", "pair lead: J2 legend", "shift");
        await Walk.Change(page, Workbench.Session, "Panel", "pair lead: J2 from left", "39 mm");
        await Assertions.Expect(page.Page.Locator("main")).Not.ToContainTextAsync("✗");

        await page.Page.ClickAsync("header >> text=Save");
        await Assertions.Expect(page.Page.Locator(".news").First).ToContainTextAsync($"Saved: {Lead}");
        string text = await File.ReadAllTextAsync(Copy.At(Lead), TestContext.Current.CancellationToken);
        Assert.Contains("R14: {resistor: 54.2k,", text, StringComparison.Ordinal);
        Assert.Contains("J2: {at: [39 mm, 150 mm], fits: jack 6.35 mm, legend: shift}", text, StringComparison.Ordinal);
        JsonElement claim = (await OpenBrowser.Json("prove", Copy.Path)).GetProperty("claims").EnumerateArray().Single(one => one.GetProperty("key").GetString() == "tracking");
        Assert.Contains(claim.GetProperty("figure").GetDouble().ToString("0.00", CultureInfo.InvariantCulture), shown, StringComparison.Ordinal);

        await Pack(page, text);
    }

    // The archive that the browser keeps: its guide asks for the new part, its panel bears the new legend, its design is the saved one.
    private static async Task Pack(WatchedPage page, string text)
    {
        await using ZipArchive archive = await Walk.Pack(page);
        using PdfDocument guide = PdfDocument.Open(await Walk.Content(archive, "guide.pdf"));
        string words = string.Join(' ', guide.GetPages().SelectMany(one => one.GetWords()).Select(word => word.Text));
        Assert.Contains("resistor 54.2k", words, StringComparison.Ordinal);
        Assert.DoesNotContain("resistor 54.9k 0.1% 25 ppm/K axial, 0.25 W pair lead", words, StringComparison.Ordinal);
        Assert.Equal(text, Encoding.UTF8.GetString(await Walk.Content(archive, $"design/{Lead}")));
        Assert.Contains("X39.000Y80.000", Encoding.UTF8.GetString(await Walk.Content(archive, "panels/pair-lead-holes.xnc")), StringComparison.Ordinal); // 230 − 150 from below
    }
}
