using Consort.Engine.Bench.Tones;
using Microsoft.Playwright;
using Xunit;

namespace Consort.Workbench.Tests.Screens;

/// <summary>Live sound as the browser's audio thread played it.</summary>
internal static class HeardSound
{
    public const int Rate = 48_000;

    /// <summary>Reads the circuits, with samples enough ahead for a busy machine.</summary>
    public static async Task Ready(WatchedPage page)
    {
        await page.Page.SelectOptionAsync("#sound-ahead", "16384");
        await page.Page.ClickAsync("#sound-ready");
        await page.Page.WaitForSelectorAsync("#sound-what", new() { Timeout = 120_000 });
    }

    public static async Task Start(WatchedPage page)
    {
        await page.Page.ClickAsync("text=Start the sound");
        await Assertions.Expect(page.Page.Locator("#sound-state")).ToHaveTextAsync("sounding");
    }

    /// <summary>Moves a live control and waits until what was made before is played.</summary>
    public static async Task Move(WatchedPage page, string field, string value)
    {
        await page.Page.FillAsync(field, value);
        await page.Page.WaitForTimeoutAsync(900);
    }

    /// <summary>Two seconds; taken again when a busy machine left a gap in them, which is no sound of the voice.</summary>
    public static async Task<double[]> Samples(WatchedPage page)
    {
        double[] samples = [];
        for (int turn = 0; turn < 6; turn++)
        {
            int before = await Gaps(page);
            samples = await page.Page.EvaluateAsync<double[]>("frames => import('/screens/Sound/sound.js').then(sound => sound.capture(frames)).then(samples => Array.from(samples))", 2 * Rate);
            await page.Page.WaitForTimeoutAsync(200); // until the count is told
            if (await Gaps(page) == before)
                break;
        }
        return samples;
    }

    /// <summary>Its pitch.</summary>
    public static async Task<double> Hertz(WatchedPage page)
    {
        (ToneReading? reading, string? why) = ToneEstimator.One(await Samples(page), Rate);
        Assert.True(reading is not null, why);
        return reading.Frequency.Value;
    }

    public static double Cents(double from, double to) => 1200 * Math.Log2(to / from);

    private static Task<int> Gaps(WatchedPage page) => page.Page.EvaluateAsync<int>("import('/screens/Sound/sound.js').then(sound => sound.counts().underruns)");
}
