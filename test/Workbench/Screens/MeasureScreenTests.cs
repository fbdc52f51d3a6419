using System.Buffers.Binary;
using System.Globalization;
using System.Text;
using System.Text.Json;
using Consort.Engine.Bench.History;
using Consort.Workbench.Folder;
using Consort.Workbench.Host;
using Consort.Workbench.Session;
using Microsoft.Playwright;
using Xunit;

namespace Consort.Workbench.Tests.Screens;

public sealed class MeasureScreenTests
{
    private const string Chromium = "/usr/bin/chromium";
    private const int Rate = 48000, Seconds = 10;
    private const double Hertz = 524.3; // whole periods in the file, which the browser plays round and round

    // Saws of 24 harmonics one after the other, harmonic by harmonic, 16 bits.
    private static void Write(string file, int seconds, params double[] notes)
    {
        int length = Rate * seconds;
        byte[] data = new byte[2 * length * notes.Length];
        for (int i = 0; i < length * notes.Length; i++)
        {
            double sum = 0;
            for (int k = 1; k <= 24; k++)
                sum += Math.Sin(2 * Math.PI * k * (notes[i / length] * (i % length) / Rate % 1)) / k;
            BinaryPrimitives.WriteInt16LittleEndian(data.AsSpan(2 * i), (short)Math.Round(8000 * sum));
        }
        using BinaryWriter writer = new(File.Create(file));
        writer.Write(Encoding.ASCII.GetBytes("RIFF"));
        writer.Write(36 + data.Length);
        writer.Write(Encoding.ASCII.GetBytes("WAVEfmt "));
        writer.Write(16);
        writer.Write((short)1);
        writer.Write((short)1);
        writer.Write(Rate);
        writer.Write(2 * Rate);
        writer.Write((short)2);
        writer.Write((short)16);
        writer.Write(Encoding.ASCII.GetBytes("data"));
        writer.Write(data.Length);
        writer.Write(data);
    }

    // A workbench of the pair, and a browser that hears a file.
    private static async Task<(WorkbenchHost Workbench, IBrowser Browser, WatchedPage Page)> Hearing(OwnCopy copy, IPlaywright driver, string sound)
    {
        WorkbenchHost workbench = await WorkbenchHost.Open(copy.Path, 0, new LiveEngine(1), new ClosedFolder(Path.Combine(copy.Path, "..", "data")), TestContext.Current.CancellationToken);
        IBrowser browser = await driver.Chromium.LaunchAsync(new()
        {
            ExecutablePath = Chromium,
            Args = ["--no-sandbox", "--use-fake-device-for-media-stream", "--use-fake-ui-for-media-stream", $"--use-file-for-fake-audio-capture={sound}"],
        });
        IBrowserContext context = await browser.NewContextAsync(new() { Permissions = ["microphone"], ViewportSize = new() { Width = 1280, Height = 900 }, ColorScheme = ColorScheme.Light });
        WatchedPage page = new(await context.NewPageAsync());
        await page.Page.GotoAsync(workbench.Address + "measure");
        await page.Page.WaitForSelectorAsync("#listen", new() { Timeout = 60_000 });
        return (workbench, browser, page);
    }

    [Fact]
    public async Task What_to_turn_is_said_from_the_notes_that_are_held_as_the_command_line_says_it()
    {
        Assert.SkipUnless(File.Exists(Chromium), $"{Chromium} is not installed");
        using OwnCopy copy = new("pair");
        string sound = Path.GetFullPath(Path.Combine(copy.Path, "..", "notes.wav"));
        // 2 V, 4 V and 6 V of the pair's law, 12 cents flat, 3.5 sharp and 20 sharp: a scale that is too wide.
        double[] notes = [131.0 * Math.Pow(2, -12.0 / 1200), Hertz, 2093.0 * Math.Pow(2, 20.0 / 1200)];
        Write(sound, 4, notes);
        using IPlaywright driver = await Playwright.CreateAsync();
        (WorkbenchHost workbench, IBrowser browser, WatchedPage page) = await Hearing(copy, driver, sound);
        await using (workbench)
        await using (browser)
        await using (page)
        {
            await page.Page.FillAsync("#temperature", "25");
            await page.Page.ClickAsync("#listen");
            await page.Page.WaitForSelectorAsync("#held tbody tr:nth-child(3)", new() { Timeout = 90_000 });
            await page.Page.ClickAsync("#listen"); // what is held stays
            await page.Page.ClickAsync("#advise");
            await page.Page.WaitForSelectorAsync("#turns tbody tr", new() { Timeout = 60_000 });
            await Picture(page.Page, "turns");
            string csv = Path.Combine(copy.Path, "..", "held.csv");
            string[] rows = [.. notes.Select((hertz, i) => string.Create(CultureInfo.InvariantCulture, $"{2 + 2 * i},{hertz:0.0000},25"))];
            await File.WriteAllTextAsync(csv, "control voltage (V),frequency (Hz),temperature (°C)\n" + string.Join('\n', rows) + "\n", TestContext.Current.CancellationToken);
            JsonElement told = await OpenBrowser.Json("trim", copy.Path, "--unit", "pair-lead/0001", csv);
            JsonElement[] turns = [.. told.GetProperty("turns").EnumerateArray()];
            string[] shown = [.. await page.Page.Locator("#turns tbody th").AllInnerTextsAsync()];
            Assert.Equal(turns.Select(turn => turn.GetProperty("trimmer").GetString()), shown);
            string[] until = [.. await page.Page.Locator("#turns tbody b").AllInnerTextsAsync()];
            // The notes are heard to a few hundredths of a cent, and shown in hertz to a few hundredths.
            Assert.All(turns.Zip(until), pair => Assert.Equal(0, 1200 * Math.Log2(double.Parse(pair.Second, CultureInfo.InvariantCulture) / pair.First.GetProperty("aimHertz").GetDouble()), 0.3));
            await Assertions.Expect(page.Page.Locator("#advice")).ToContainTextAsync("driver of plastic");
        }
    }

    [Fact]
    public async Task A_note_at_the_sound_input_is_read_held_put_in_the_trimming_sheet_and_recorded_by_serial()
    {
        Assert.SkipUnless(File.Exists(Chromium), $"{Chromium} is not installed");
        using OwnCopy copy = new("pair");
        string sound = Path.GetFullPath(Path.Combine(copy.Path, "..", "note.wav")); // the browser opens no path with dots
        Write(sound, Seconds, Hertz);
        using IPlaywright driver = await Playwright.CreateAsync();
        (WorkbenchHost workbench, IBrowser browser, WatchedPage page) = await Hearing(copy, driver, sound);
        await using WorkbenchHost opened = workbench;
        await using IBrowser hearing = browser;
        await using WatchedPage watched = page;
        await page.Page.FillAsync("#serial", "0042");
        await page.Page.FillAsync("#temperature", "23.5");
        await page.Page.ClickAsync("#listen");
        await page.Page.WaitForSelectorAsync("#held tbody tr", new() { Timeout = 90_000 });
        await Picture(page.Page, "light");
        await page.Page.EmulateMediaAsync(new() { ColorScheme = ColorScheme.Dark });
        await Picture(page.Page, "dark");
        await page.Page.FillAsync("#occasion", "as built");
        await page.Page.ClickAsync("#record");
        await Assertions.Expect(page.Page.Locator("#kept")).ToContainTextAsync("/0042 recorded at");
        string shown = (await page.Cells("#held"))[0][1];
        Assert.Equal(0, 1200 * Math.Log2(double.Parse(shown.Replace(" Hz", "", StringComparison.Ordinal), CultureInfo.InvariantCulture) / Hertz), 0.05);
        await page.Page.ClickAsync("#listen");
        (UnitLog? log, _) = UnitLog.Open(UnitLog.In(copy.Path));
        using (log)
        {
            SittingEntry sitting = Assert.IsType<SittingEntry>(Assert.Single(log!.Entries().Entries));
            KeptReading reading = Assert.Single(sitting.Readings);
            // 16 bits and one second leave a thousandth of a cent; the fake device keeps the file's clock.
            Assert.Equal(0, 1200 * Math.Log2(reading.Hertz / Hertz), 0.05);
            Assert.Equal(("0042", "as built", 296.65), (sitting.Unit.Serial, sitting.Occasion, reading.Kelvin!.Value));
        }
    }

    private static async Task Picture(IPage page, string name)
    {
        if (Environment.GetEnvironmentVariable("CONSORT_LOOK") is { } place)
            await page.ScreenshotAsync(new() { Path = Path.Combine(place, $"measure-{name}.png"), FullPage = true });
    }
}
