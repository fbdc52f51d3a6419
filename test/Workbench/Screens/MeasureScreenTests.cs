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
        Write(file, 1, length * notes.Length, (i, _) => Saw(notes[i / length] * (i % length) / Rate));
    }

    private static double Saw(double turns)
    {
        double sum = 0;
        for (int k = 1; k <= 24; k++)
            sum += Math.Sin(2 * Math.PI * k * (turns % 1)) / k;
        return sum;
    }

    private static void Write(string file, int channels, int length, Func<int, int, double> sample)
    {
        byte[] data = new byte[2 * channels * length];
        for (int i = 0; i < channels * length; i++)
            BinaryPrimitives.WriteInt16LittleEndian(data.AsSpan(2 * i), (short)Math.Round(8000 * sample(i / channels, i % channels)));
        using BinaryWriter writer = new(File.Create(file));
        writer.Write(Encoding.ASCII.GetBytes("RIFF"));
        writer.Write(36 + data.Length);
        writer.Write(Encoding.ASCII.GetBytes("WAVEfmt "));
        writer.Write(16);
        writer.Write((short)1);
        writer.Write((short)channels);
        writer.Write(Rate);
        writer.Write(2 * channels * Rate);
        writer.Write((short)(2 * channels));
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
            // A trimmer that is felt to stand at its stop is known to stand there.
            await page.Page.SelectOptionAsync("#stands-RV1", "1");
            await Assertions.Expect(page.Page.Locator("#advice .old")).ToBeVisibleAsync();
            await page.Page.ClickAsync("#advise");
            await Assertions.Expect(page.Page.Locator("#advice .old")).ToHaveCountAsync(0, new() { Timeout = 60_000 });
            JsonElement stopped = await OpenBrowser.Json("trim", copy.Path, "--unit", "pair-lead/0001", csv, "--stands", "RV1 100%");
            (string, bool)[] foretold = [.. stopped.GetProperty("turns").EnumerateArray().Select(turn => (turn.GetProperty("trimmer").GetString()!, turn.GetProperty("turnsClockwise").GetDouble() >= 0))];
            Assert.DoesNotContain(("RV1", true), foretold);
            string[] names = [.. await page.Page.Locator("#turns tbody th").AllInnerTextsAsync()], ways = [.. await page.Page.Locator("#turns tbody td:nth-child(4)").AllInnerTextsAsync()];
            Assert.Equal(foretold, names.Zip(ways, (name, way) => (name, !way.Contains("counter", StringComparison.Ordinal))));
            await page.Page.SelectOptionAsync("#stands-RV1", "");
            await Again(page, copy, csv, notes);
        }
    }

    // The same notes once more, after a turn that did nothing to them: what the fit makes of two rounds is what the verb makes of two files.
    private static async Task Again(WatchedPage page, OwnCopy copy, string first, double[] notes)
    {
        await page.Page.ClickAsync("#another-round");
        await Assertions.Expect(page.Page.Locator("#held")).ToHaveCountAsync(0);
        await Assertions.Expect(page.Page.Locator("#round")).ToContainTextAsync("Round 2. 3 readings");
        string[] trimmers = ["RV1", "RV2", "RV3"], turned = ["0.5", "0", "-0.25"];
        for (int i = 0; i < trimmers.Length; i++)
            await page.Page.FillAsync($"#turned-{trimmers[i]}", turned[i]);
        await page.Page.ClickAsync("#listen");
        await page.Page.WaitForSelectorAsync("#held tbody tr:nth-child(3)", new() { Timeout = 90_000 });
        await page.Page.ClickAsync("#listen");
        await page.Page.ClickAsync("#advise");
        await Assertions.Expect(page.Page.Locator("#advice .old")).ToHaveCountAsync(0, new() { Timeout = 60_000 });
        string second = Path.Combine(copy.Path, "..", "again.csv");
        string[] rows = [.. notes.Select((hertz, i) => string.Create(CultureInfo.InvariantCulture, $"{2 + 2 * i},{hertz:0.0000},25,{string.Join(',', turned)}"))];
        await File.WriteAllTextAsync(second, $"control voltage (V),frequency (Hz),temperature (°C),{string.Join(',', trimmers.Select(one => $"{one} turned"))}\n" + string.Join('\n', rows) + "\n", TestContext.Current.CancellationToken);
        JsonElement[] turns = [.. (await OpenBrowser.Json("trim", copy.Path, "--unit", "pair-lead/0001", first, second)).GetProperty("turns").EnumerateArray()];
        Assert.Equal(turns.Select(turn => turn.GetProperty("trimmer").GetString()), await page.Page.Locator("#turns tbody th").AllInnerTextsAsync());
        string[] until = [.. await page.Page.Locator("#turns tbody b").AllInnerTextsAsync()];
        Assert.All(turns.Zip(until), pair => Assert.Equal(0, 1200 * Math.Log2(double.Parse(pair.Second, CultureInfo.InvariantCulture) / pair.First.GetProperty("aimHertz").GetDouble()), 0.3));
    }

    [Fact]
    public async Task A_sweep_under_sync_is_read_as_the_command_line_reads_it_recorded_and_told_in_the_history()
    {
        Assert.SkipUnless(File.Exists(Chromium), $"{Chromium} is not installed");
        using OwnCopy copy = new("pair");
        string synced = Path.GetFullPath(Path.Combine(copy.Path, "..", "synced.wav")), free = Path.GetFullPath(Path.Combine(copy.Path, "..", "free.wav"));
        WriteSweep(synced, free);
        JsonElement hold = (await OpenBrowser.Json("measure", copy.Path, "--unit", "pair-follower/0042", synced, "--lead-channel", "2", "--unsynced", free)).GetProperty("syncs")[0].GetProperty("holds")[0];
        Assert.InRange(hold.GetProperty("sharpCents").GetDouble(), 20, 40); // 30 by the equation
        using IPlaywright driver = await Playwright.CreateAsync();
        (WorkbenchHost workbench, IBrowser browser, WatchedPage page) = await Hearing(copy, driver, free);
        await using WorkbenchHost opened = workbench;
        await using IBrowser hearing = browser;
        await using WatchedPage watched = page;
        await page.Page.SelectOptionAsync("#module", "pair-follower");
        await page.Page.FillAsync("#serial", "0042");
        await page.Page.SetInputFilesAsync("#synced", synced);
        await page.Page.SetInputFilesAsync("#unsynced", free);
        await page.Page.ClickAsync("#read-sweep");
        await page.Page.WaitForSelectorAsync("#holds tbody tr", new() { Timeout = 60_000 });
        string[] shown = (await page.Cells("#holds"))[0];
        Assert.Equal(hold.GetProperty("flatCents").GetDouble(), double.Parse(shown[2].Replace('−', '-'), CultureInfo.InvariantCulture), 0.06);
        Assert.Equal(hold.GetProperty("sharpCents").GetDouble(), double.Parse(shown[4].Replace('−', '-'), CultureInfo.InvariantCulture), 0.06);
        await page.Page.ClickAsync("#record-sweep");
        await Assertions.Expect(page.Page.Locator("#story tbody tr")).ToContainTextAsync("sync held from");
        (UnitLog? log, _) = UnitLog.Open(UnitLog.In(copy.Path));
        using (log)
            Assert.Equal(hold.GetProperty("sharpCents").GetDouble(), Assert.IsType<SyncEntry>(Assert.Single(log!.Entries().Entries)).Hold!.Sharp.Cents, 1e-9);
    }

    // By a phase equation after Adler (Proc. IRE 34 (1946) 351): the follower stands, the lead is swept 60 cents past it either way
    // in 20 s, the hold reaches 30 cents.
    private static void WriteSweep(string synced, string free)
    {
        const double Own = 440, Reach = 30, Wide = 60, Seconds = 20;
        int length = (int)(Seconds * Rate);
        double[] follower = new double[length], lead = new double[length];
        double a = 0.3, c = 0;
        for (int i = 0; i < length; i++)
        {
            (follower[i], lead[i]) = (a, c);
            double f = Own * Math.Pow(2, Wide * (2.0 * i / length - 1) / 1200);
            a += (Own - f * (Math.Pow(2, Reach / 1200) - 1) * Math.Sin(2 * Math.PI * (a - c))) / Rate;
            c += f / Rate;
        }
        Write(synced, 2, length, (i, channel) => Saw((channel == 0 ? follower : lead)[i]));
        Write(free, 1, 2 * Rate, (i, _) => Saw(Own * i / Rate));
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
        await page.Page.FillAsync("#full-scale", "20");
        await page.Page.Keyboard.PressAsync("Tab");
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
            // Twenty-four harmonics of a saw: 2/πk of a half from peak to peak, here 8000 of 32768 times Σ sin/k, which runs over π.
            Assert.Equal("saw", reading.Shape);
            Assert.Equal(Math.Sqrt(Enumerable.Range(2, 23).Sum(k => 1.0 / k / k)), reading.Distortion!.Value, 0.005);
            // The height is that of the flank which fits; a reset that seems to take 2 % makes it 1.5 % less.
            Assert.Equal(20 * 8000 / 32768.0 * Math.PI, reading.VoltsPeakToPeak!.Value, 0.35);
        }
    }

    private static async Task Picture(IPage page, string name)
    {
        if (Environment.GetEnvironmentVariable("CONSORT_LOOK") is { } place)
            await page.ScreenshotAsync(new() { Path = Path.Combine(place, $"measure-{name}.png"), FullPage = true });
    }
}
