using System.Text.Json;
using Microsoft.Playwright;
using Xunit;

namespace Consort.Workbench.Tests.Screens;

/// <summary>What is heard in the browser, taken from its audio thread.</summary>
public sealed class SoundScreenTests(OpenBrowser open)
{
    private static async Task<WatchedPage> Ready(OpenBrowser open, string address = "sound")
    {
        WatchedPage page = await open.Page(address);
        await HeardSound.Ready(page);
        return page;
    }

    [Fact]
    public async Task A_key_sounds_at_the_pitch_that_the_command_line_reads_and_follows_the_detune()
    {
        string file = Path.Combine(Path.GetTempPath(), $"{Guid.NewGuid():N}.wav");
        JsonElement told = await OpenBrowser.Json("listen", open.Copy.Path, "--notes", "C4 100 ms", "--out", file);
        File.Delete(file);
        double cents = told.GetProperty("strips")[0].GetProperty("law").EnumerateArray().Single(point => point.GetProperty("controlVolts").GetDouble() == 3).GetProperty("cents").GetDouble();
        double expected = 440 * Math.Pow(2, -9 / 12.0) * Math.Pow(2, cents / 1200);

        await using WatchedPage page = await Ready(open);
        await page.Page.FillAsync("#level-1", "-60"); // the lead alone
        await HeardSound.Start(page);
        await page.Page.Locator("h1").ClickAsync();
        await page.Page.Keyboard.DownAsync("q");
        await Assertions.Expect(page.Page.Locator("#sound-key")).ToHaveTextAsync("C4");
        await page.Page.WaitForTimeoutAsync(700);
        Assert.InRange(HeardSound.Cents(expected, await HeardSound.Hertz(page)), -0.1, 0.1);

        await HeardSound.Move(page, "#detune-0", "50");
        Assert.InRange(HeardSound.Cents(expected, await HeardSound.Hertz(page)), 49.9, 50.1);
        await page.Page.ScreenshotAsync(new() { Path = Environment.GetEnvironmentVariable("CONSORT_SHOTS") is { } shots ? Path.Combine(shots, "sound.png") : null, FullPage = true });
    }

    [Fact]
    public async Task Parts_that_get_warmer_while_they_sound_drift_as_the_command_line_reads_and_noise_is_heard_when_it_is_turned_up()
    {
        string file = Path.Combine(Path.GetTempPath(), $"{Guid.NewGuid():N}.wav");
        JsonElement told = await OpenBrowser.Json("listen", open.Copy.Path, "--notes", "C4 100 ms", "--out", file, "--temperature-course", "0 s=10 °C, 1 s=40 °C");
        File.Delete(file);
        JsonElement drift = told.GetProperty("drift");
        double cold = drift.GetProperty("oscillators")[0].GetProperty("cents")[0].GetDouble();

        await using WatchedPage page = await open.Page("sound");
        await page.Page.CheckAsync("#sound-unrest");
        await HeardSound.Ready(page);
        await Assertions.Expect(page.Page.Locator("#sound-unrest-read tbody tr")).ToHaveCountAsync(2);
        await page.Page.FillAsync("#level-1", "-60"); // the lead alone
        await page.Page.FillAsync("#all-following", "0.05");
        await HeardSound.Start(page);
        await page.Page.Locator("h1").ClickAsync();
        await page.Page.Keyboard.DownAsync("q");
        await page.Page.WaitForTimeoutAsync(700);
        double before = await HeardSound.Hertz(page);
        double quiet = Change(await HeardSound.Samples(page), before);
        await HeardSound.Move(page, "#all-warmer", "-15");
        Assert.InRange(HeardSound.Cents(before, await HeardSound.Hertz(page)), cold - 0.1, cold + 0.1);
        await HeardSound.Move(page, "#all-warmer", "0");
        await HeardSound.Move(page, "#all-noise", "3000");
        Assert.True(Change(await HeardSound.Samples(page), before) > 10 * quiet, "turned up, it is heard");
        await page.Page.ScreenshotAsync(new() { Path = Environment.GetEnvironmentVariable("CONSORT_SHOTS") is { } shots ? Path.Combine(shots, "sound-unrest.png") : null, FullPage = true });
    }

    // Root mean square of what one period differs by from the one before it, against the whole: a still oscillator repeats.
    private static double Change(double[] samples, double hertz)
    {
        double period = HeardSound.Rate / hertz;
        (double change, double all) = (0, 0);
        for (int n = (int)period + 2; n < samples.Length; n++)
        {
            int i = (int)Math.Floor(n - period);
            double then = samples[i] + (n - period - i) * (samples[i + 1] - samples[i]);
            (change, all) = (change + Math.Pow(samples[n] - then, 2), all + samples[n] * samples[n]);
        }
        return Math.Sqrt(change / all);
    }

    [Fact]
    public async Task It_starts_quiet_and_the_escape_key_silences_it()
    {
        await using WatchedPage page = await Ready(open);
        Assert.Equal("-20", await page.Page.InputValueAsync("#all-level"));
        await HeardSound.Start(page);
        await page.Page.Locator("h1").ClickAsync();
        await page.Page.Keyboard.DownAsync("q");
        await page.Page.WaitForTimeoutAsync(900);
        double peak = await page.Page.EvaluateAsync<double>("import('/screens/Sound/sound.js').then(sound => sound.counts().peak)");
        Assert.InRange(peak, 0.01, 0.115); // -20 dB, and what the edge of a pulse rings over it
        await page.Page.Keyboard.PressAsync("Escape");
        await Assertions.Expect(page.Page.Locator("#sound-state")).ToHaveTextAsync("stopped");
        await Assertions.Expect(page.Page.Locator("#sound-level")).ToHaveTextAsync("silent");
    }
}
