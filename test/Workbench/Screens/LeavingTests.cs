using Microsoft.Playwright;
using Xunit;

namespace Consort.Workbench.Tests.Screens;

/// <summary>A screen may be left at any moment: what it had begun in the browser comes to nothing, and harms no other screen.</summary>
public sealed class LeavingTests(OpenBrowser open)
{
    [Fact]
    public async Task A_screen_left_before_its_plots_are_drawn_stops_no_other()
    {
        await using WatchedPage page = await open.Page("voice");
        await page.Proved();
        using HeldFile script = await HeldFile.Hold(page, "**/assets/chart.js*");
        await Walk.To(page, "Builds");
        await script.Asked;
        await Walk.To(page, "Voice");
        script.Give();
        await Unharmed(page, "Voice");
        await Walk.To(page, "Tracking");
        await page.Page.WaitForSelectorAsync(".plot canvas"); // and the next plot is drawn
    }

    [Fact]
    public async Task A_sound_screen_left_while_sound_begins_stays_silent_and_stops_no_other()
    {
        await using WatchedPage page = await open.Page("sound");
        await page.Proved();
        await page.Page.ClickAsync("#sound-ready");
        await page.Page.WaitForSelectorAsync("#sound-what", new() { Timeout = 300_000 });
        await page.Page.EvaluateAsync(HeldWorklet);
        await page.Page.ClickAsync("text=Start the sound");
        await page.Page.EvaluateAsync("() => asked");
        await Walk.To(page, "Voice");
        await page.Page.EvaluateAsync("() => give()");
        await Unharmed(page, "Voice");
        Assert.Equal("stopped", await page.Page.EvaluateAsync<string>("() => import('/screens/Sound/sound.js').then(sound => sound.counts().state)"));
    }

    // The browser hands no request of a worklet to tests.
    private const string HeldWorklet = """
        () => {
          const load = AudioWorklet.prototype.addModule;
          const held = new Promise(done => globalThis.give = done);
          globalThis.asked = new Promise(done => AudioWorklet.prototype.addModule = async function (...names) { done(); await held; return load.apply(this, names); });
        }
        """;

    // A fault in the browser is told to the program, which then shows it: both ways are gone twice.
    private static async Task Unharmed(WatchedPage page, string screen)
    {
        ILocator only = page.Page.Locator("#only");
        foreach (string part in new[] { "R3", "R4" })
        {
            await page.Page.WaitForTimeoutAsync(200);
            await Assertions.Expect(page.Page.Locator("h1")).ToHaveTextAsync(screen);
            await only.FillAsync(part);
            await Assertions.Expect(page.Page.Locator($"#parts [data-part={part}]")).ToBeVisibleAsync();
        }
    }

    /// <summary>A file that the browser asks for and does not get before it is given.</summary>
    private sealed class HeldFile : IDisposable
    {
        private readonly TaskCompletionSource asked = new(), held = new();

        public Task Asked => asked.Task.WaitAsync(TimeSpan.FromSeconds(60), TestContext.Current.CancellationToken);

        public static async Task<HeldFile> Hold(WatchedPage page, string file)
        {
            HeldFile one = new();
            await page.Page.RouteAsync(file, async route =>
            {
                one.asked.TrySetResult();
                await one.held.Task;
                await route.ContinueAsync();
            });
            return one;
        }

        public void Give() => held.TrySetResult();

        public void Dispose() => Give();
    }
}
