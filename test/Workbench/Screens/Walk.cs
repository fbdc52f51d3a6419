using System.Globalization;
using System.IO.Compression;
using Consort.Workbench.Session;
using Microsoft.Playwright;
using Xunit;

namespace Consort.Workbench.Tests.Screens;

/// <summary>Steps of a walk through the screens, as a person takes them.</summary>
internal static class Walk
{
    /// <summary>To a screen, by the list at the left.</summary>
    public static async Task To(WatchedPage page, string screen)
    {
        await page.Page.ClickAsync($"nav a:text-is('{screen}')");
        await Assertions.Expect(page.Page.Locator("h1")).ToHaveTextAsync(screen);
    }

    /// <summary>Types another value into a field of a screen.</summary>
    public static async Task Change(WatchedPage page, VoiceSession session, string screen, string label, string value)
    {
        await To(page, screen);
        long before = session.State.Revision;
        ILocator field = page.Page.GetByLabel(label, new() { Exact = true });
        await field.FillAsync(value);
        await field.PressAsync("Enter");
        for (int i = 0; i < 100 && session.State.Revision == before; i++)
            await page.Page.WaitForTimeoutAsync(50);
    }

    /// <summary>Waits for the whole proof of the present texts.</summary>
    public static Task Proved(WatchedPage page, VoiceSession session) =>
        page.Page.WaitForSelectorAsync(string.Create(CultureInfo.InvariantCulture, $"[data-kind-of-figures=Proved][data-revision='{session.State.Revision}']"), new() { Timeout = 300_000 });

    /// <summary>Makes the pack, and keeps it as the browser does.</summary>
    public static async Task<ZipArchive> Pack(WatchedPage page)
    {
        await To(page, "Pack");
        await page.Page.ClickAsync("#pack-make");
        await page.Page.WaitForSelectorAsync("#pack-keep", new() { Timeout = 120_000 });
        IDownload download = await page.Page.RunAndWaitForDownloadAsync(() => page.Page.ClickAsync("#pack-keep"));
        return await ZipFile.OpenReadAsync(await download.PathAsync(), TestContext.Current.CancellationToken);
    }

    /// <summary>One file of an archive.</summary>
    public static async Task<byte[]> Content(ZipArchive archive, string name)
    {
        using MemoryStream content = new();
        await using Stream stream = await archive.Entries.Single(entry => entry.FullName.EndsWith(name, StringComparison.Ordinal)).OpenAsync(TestContext.Current.CancellationToken);
        await stream.CopyToAsync(content, TestContext.Current.CancellationToken);
        return content.ToArray();
    }
}
