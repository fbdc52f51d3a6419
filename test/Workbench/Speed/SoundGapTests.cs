using System.Globalization;
using Consort.Workbench.Tests.Screens;
using Microsoft.Playwright;
using Xunit;

namespace Consort.Workbench.Tests.Speed;

/// <summary>Whether the sound of four oscillators has gaps. The count is printed and, when CONSORT_BENCH names a file, kept there;
/// nothing is asserted of it but that there was sound.</summary>
[Trait("Runs", "Long")]
public sealed class SoundGapTests(OpenBrowser open, ITestOutputHelper output) : LiveQuartet
{
    private const int Seconds = 60;

    [Fact]
    public async Task Four_oscillators_sound_for_a_minute_while_notes_change()
    {
        await using WatchedPage page = await open.Elsewhere(Workbench.Address + "sound");
        await page.Proved();
        await page.Page.ClickAsync("#sound-ready");
        await page.Page.WaitForSelectorAsync("#sound-what", new() { Timeout = 120_000 });
        await page.Page.ClickAsync("text=Start the sound");
        await Assertions.Expect(page.Page.Locator("#sound-state")).ToHaveTextAsync("sounding");
        await page.Page.Locator("h1").ClickAsync();
        await page.Page.WaitForTimeoutAsync(1000);
        int before = await Count(page, "underruns");
        double peak = 0;
        for (int second = 0; second < Seconds; second++)
        {
            string key = "qwertyu"[second % 7].ToString();
            await page.Page.Keyboard.DownAsync(key);
            await page.Page.WaitForTimeoutAsync(1000);
            peak = Math.Max(peak, await Count(page, "peak", 1e6) / 1e6);
            await page.Page.Keyboard.UpAsync(key);
        }
        Assert.True(peak > 1e-3, "nothing sounded");
        int gaps = await Count(page, "underruns") - before;
        KeptFigures.Keep(output, string.Create(CultureInfo.InvariantCulture, $"sound of the quartet for {Seconds} s in chromium, a note a second: {gaps} gaps"));
    }

    private static Task<int> Count(WatchedPage page, string what, double times = 1) =>
        page.Page.EvaluateAsync<int>("([what, times]) => import('/screens/Sound/sound.js').then(sound => Math.round(times * sound.counts()[what]))", new object[] { what, times });
}
