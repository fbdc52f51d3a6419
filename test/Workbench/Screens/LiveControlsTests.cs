using System.Numerics;
using System.Text.Json;
using Consort.Engine.Sound.Spectra;
using Consort.Workbench.Folder;
using Consort.Workbench.Host;
using Consort.Workbench.Tests.Session;
using Microsoft.Playwright;
using Xunit;

namespace Consort.Workbench.Tests.Screens;

/// <summary>Sync, frequency modulation and a MIDI keyboard, moved on the page and heard from its audio thread.</summary>
public sealed class LiveControlsTests(OpenBrowser open) : IAsyncLifetime
{
    // A keyboard that nobody built: the page takes its notes as those of any other (W3C Web MIDI API, MIDIInput).
    private const string Keyboard = "() => { window.keys = { name: 'two octaves' }; Object.defineProperty(navigator, 'requestMIDIAccess', { value: async () => ({ inputs: new Map([['keys', window.keys]]), onstatechange: null }) }); }";

    private readonly OwnCopy copy = new("quartet");
    private WorkbenchHost workbench = null!;

    // The second's switch stands on hard sync, and the wheel is patched to the lead's linear FM, opened whole.
    public async ValueTask InitializeAsync()
    {
        string text = await File.ReadAllTextAsync(copy.At("voice.yaml"));
        string patched = text
            .Replace("second: {module: quartet-follower}", "second: {module: quartet-follower, set: {SW1: 3}}", StringComparison.Ordinal)
            .Replace("to: lead/bend", "to: lead/lin fm", StringComparison.Ordinal)
            .Replace("set: {P1: 50%", "set: {P3: 100%, P1: 50%", StringComparison.Ordinal);
        await File.WriteAllTextAsync(copy.At("voice.yaml"), patched);
        workbench = await WorkbenchHost.Open(copy.Path, 0, new SilentEngine(), new ClosedFolder(Path.Combine(copy.Path, "..", "data")));
    }

    public async ValueTask DisposeAsync()
    {
        await workbench.DisposeAsync();
        copy.Dispose();
    }

    [Fact]
    public async Task A_midi_note_sounds_at_its_pitch_synced_modulated_and_until_it_ends()
    {
        await using WatchedPage page = await open.Elsewhere(workbench.Address + "sound");
        await HeardSound.Ready(page);
        await page.Page.EvaluateAsync(Keyboard);
        await page.Page.ClickAsync("text=Use MIDI keyboards");
        await Assertions.Expect(page.Page.Locator("#sound-midi")).ToHaveTextAsync("two octaves");
        await HeardSound.Start(page);
        await Only(page, 0);
        await Send(page, 0x90, 60, 100);
        await Assertions.Expect(page.Page.Locator("#sound-key")).ToHaveTextAsync("C4");
        await page.Page.WaitForTimeoutAsync(900);
        double lead = await HeardSound.Hertz(page);
        Assert.InRange(HeardSound.Cents(await Told(), lead), -0.1, 0.1);
        await Modulated(page, lead);
        await Only(page, 1);
        await Synced(page, lead);

        await Send(page, 0x90, 60, 0); // a note on of no velocity ends the note (MIDI 1.0)
        await page.Page.WaitForTimeoutAsync(900);
        Assert.InRange((await HeardSound.Samples(page)).Max(Math.Abs), 0, 1e-6);
    }

    // What the command line reads of the same folder at the C that MIDI numbers 60.
    private async Task<double> Told()
    {
        string file = Path.Combine(copy.Path, "..", "told.wav");
        JsonElement law = (await OpenBrowser.Json("listen", copy.Path, "--notes", "C4 100 ms", "--out", file)).GetProperty("strips")[0].GetProperty("law");
        double cents = law.EnumerateArray().Single(point => point.GetProperty("controlVolts").GetDouble() == 3).GetProperty("cents").GetDouble();
        return 440 * Math.Pow(2, -9 / 12.0) * Math.Pow(2, cents / 1200);
    }

    // A sine on linear FM: the first harmonic keeps its middle and has lines beside it, all Bessel functions of deviation over rate.
    private static async Task Modulated(WatchedPage page, double hertz)
    {
        const double Rate = 90.05;
        await HeardSound.Move(page, "#volts-0", "1");
        double up = await HeardSound.Hertz(page);
        await HeardSound.Move(page, "#volts-0", "-1");
        double deviation = (up - await HeardSound.Hertz(page)) / 2;
        Assert.InRange(deviation, 0.02 * hertz, 0.5 * hertz);
        await HeardSound.Move(page, "#volts-0", "0");
        await page.Page.FillAsync("#rate-0", "90.05");
        await HeardSound.Move(page, "#depth-0", "1");
        double[] samples = await HeardSound.Samples(page);
        double Line(int side) => Spectrum.LineAt(samples, HeardSound.Rate, Window.FlatTop, hertz + side * Rate).Magnitude;
        for (int side = 1; side <= 2; side++)
            foreach (int way in (int[])[side, -side])
                Assert.Equal(Math.Abs(MathNet.Numerics.SpecialFunctions.BesselJ(side, deviation / Rate) / MathNet.Numerics.SpecialFunctions.BesselJ(0, deviation / Rate)), Line(way) / Line(0), 0.02);
        await HeardSound.Move(page, "#depth-0", "0");
    }

    // Hard sync an octave and 70 cents up: the lead's pitch, and the harmonics of a saw that begins anew after 2.08 of its periods.
    private static async Task Synced(WatchedPage page, double lead)
    {
        await page.Page.FillAsync("#octave-1", "1");
        await HeardSound.Move(page, "#detune-1", "70");
        double[] samples = await HeardSound.Samples(page);
        double[] heard = [.. Enumerable.Range(1, 6).Select(n => Spectrum.LineAt(samples, HeardSound.Rate, Window.FlatTop, n * lead).Magnitude)];
        double[] sketched = Sketch(2 * Math.Pow(2, 70 / 1200.0));
        for (int n = 0; n < heard.Length; n++)
            Assert.Equal(sketched[n] / sketched[1], heard[n] / heard[1], 0.02);

        await page.Page.UncheckAsync("#sync-1");
        await page.Page.WaitForTimeoutAsync(900);
        Assert.InRange(HeardSound.Cents(2 * lead, await HeardSound.Hertz(page)), 69, 71);
        await page.Page.CheckAsync("#sync-1");
        await page.Page.WaitForTimeoutAsync(900);
        Assert.InRange(HeardSound.Cents(lead, await HeardSound.Hertz(page)), -0.1, 0.1);
    }

    // Fourier's sums over one period of the lead.
    private static double[] Sketch(double ratio)
    {
        const int Points = 48_000;
        return
        [
            .. Enumerable.Range(1, 6).Select(n =>
                Enumerable.Range(0, Points).Select(i => (i + 0.5) / Points).Aggregate(Complex.Zero, (sum, at) => sum + (at * ratio % 1 * Complex.FromPolarCoordinates(1, -2 * Math.PI * n * at))).Magnitude),
        ];
    }

    private static async Task Only(WatchedPage page, int strip)
    {
        for (int i = 0; i < 4; i++)
            await page.Page.FillAsync($"#level-{i}", i == strip ? "0" : "-60");
        await page.Page.WaitForTimeoutAsync(900);
    }

    private static Task Send(WatchedPage page, params int[] message) =>
        page.Page.EvaluateAsync("data => window.keys.onmidimessage({ data: Uint8Array.from(data) })", message);
}
