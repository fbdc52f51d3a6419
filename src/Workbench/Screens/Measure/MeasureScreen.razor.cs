using System.Collections.Immutable;
using System.Globalization;
using System.Runtime.InteropServices;
using Consort.Engine.Bench;
using Consort.Engine.Bench.History;
using Consort.Engine.Bench.Live;
using Consort.Engine.Bench.Readings;
using Consort.Engine.Bench.Sync;
using Consort.Engine.Bench.Waveforms;
using Consort.Engine.Design;
using Consort.Engine.Documents;
using Consort.Engine.Quantities;
using Microsoft.Extensions.DependencyInjection;
using Microsoft.Extensions.DependencyInjection.Extensions;
using Microsoft.JSInterop;

namespace Consort.Workbench.Screens.Measure;

/// <summary>A unit heard through the sound input: its pitch, large; readings held as they stand still; kept by serial.</summary>
public sealed partial class MeasureScreen(IJSRuntime browser, TimeProvider clock) : IAsyncDisposable
{
    private const double NearOctave = 300; // cents, as in recordings: further off it may be another octave
    private const double SameVolts = 1e-6;
    private const int EveryPieces = 2; // some six readings a second at 48 kHz

    /// <summary>What it keeps for a tab.</summary>
    internal static void Add(IServiceCollection services)
    {
        services.TryAddSingleton(TimeProvider.System);
        services.AddScoped<TrimWork>();
        services.AddScoped<FaultWork>();
    }

    private readonly Lock hearing = new();
    private DotNetObjectReference<MeasureScreen>? self;
    private IJSObjectReference? script;
    private IJSObjectReference? listening;
    private LiveTone? tone;
    private int lastPiece;
    private bool isReading;
    private bool isLeft;
    private string? chosen;

    private string Module
    {
        get => chosen ?? Modules.FirstOrDefault() ?? "";
        set => chosen = value;
    }

    private string Serial { get; set; } = "0001";

    private string Control { get; set; } = "";

    private string Temperature { get; set; } = "";

    private string? Occasion { get; set; }

    private bool IsListening => listening is not null;

    private LiveReading? Live { get; set; }

    private string? Fault { get; set; }

    private string? Kept { get; set; }

    private string Input { get; set; } = "";

    private ImmutableArray<UnitReading> Held { get; set; } = [];

    private RecorderClock Clock { get; set; } = RecorderClock.Unknown;

    private string[] Modules => [.. State.Design!.Voice.Members.Where(one => one.Module.Pitch is not null && one.Module.Sheet is null).Select(UnitPlace.ModuleOf).Distinct()];

    private (UnitPlace? Place, string? What) Unit
    {
        get
        {
            (UnitPlace? place, string? what, string? _) = UnitPlace.Find(State.Design!.Voice, $"{Module}/{Serial}", null);
            return (place, what);
        }
    }

    private UnitPlace? Place => Unit.Place;

    private ReadingSet? HeldSet => Place is { } place ? new(place.Unit, Clock, Held, []) : null;

    private ImmutableArray<TrimStep> Trims => [.. Place!.Member.Module.Trims.Where(step => step.Purpose != TrimPurpose.Other)];

    private double[] Octaves => Place is null ? [] : [.. Enumerable.Range(-1, 11).Select(octave => Place.Law.ReferenceVoltage + octave * Place.Law.VoltsPerOctave)];

    private bool IsWarmth => Temperature.Length == 0 || Kelvin is not null;

    private double? Kelvin =>
        double.TryParse(Temperature, NumberStyles.Float, CultureInfo.InvariantCulture, out double celsius) && celsius is > -100 and < 200 ? celsius + 273.15 : null;

    private string Level => tone is null or { Peak: 0 } ? "none" : $"{20 * Math.Log10(tone.Peak):0;−0;0} dB of full scale{(tone.Peak > 0.98 ? ": it clips" : "")}";

    private double Hertz(LiveReading live) => Clock.Ratio * live.Tone.Frequency.Value;

    // The chosen voltage, or the octave that the note stands near.
    private double? VoltsOf(LiveReading live)
    {
        if (Place is null)
            return null;
        if (double.TryParse(Control, NumberStyles.Float, CultureInfo.InvariantCulture, out double named))
            return named;
        double octaves = Math.Log2(Hertz(live) / Place.Law.ReferenceFrequency), near = Math.Round(octaves);
        return 1200 * Math.Abs(octaves - near) <= NearOctave ? Place.Law.ReferenceVoltage + near * Place.Law.VoltsPerOctave : null;
    }

    private string Large(LiveReading live) =>
        VoltsOf(live) is { } volts && Place!.Cents(volts, Hertz(live)) is var cents && Math.Abs(cents) < 10_000 ? cents.ToString("+0.0;−0.0;0.0", CultureInfo.InvariantCulture) : "–";

    private static string Little(double cents) => cents < 0.01 ? "<0.01" : cents.ToString("0.00", CultureInfo.InvariantCulture);

    private static string Number(double value) => value.ToString("R", CultureInfo.InvariantCulture);

    private static string Words(TrimPurpose purpose) => purpose switch { TrimPurpose.Tracking => "tracking", TrimPurpose.Centre => "centre", _ => "high end" };

    private UnitReading? HeldAt(double volts) => Held.FirstOrDefault(reading => Math.Abs(reading.Control.Value - volts) < SameVolts);

    private async Task Turn()
    {
        if (IsListening)
        {
            await Stop();
            return;
        }
        try
        {
            Fault = null;
            script ??= await browser.InvokeAsync<IJSObjectReference>("import", "/screens/Measure/measure.js");
            self ??= DotNetObjectReference.Create(this);
            IJSObjectReference opened = await script.InvokeAsync<IJSObjectReference>("listen", self);
            if (isLeft) // allowed only after that
            {
                listening = opened;
                await Stop();
                return;
            }
            double rate = await script.InvokeAsync<double>("rate", opened);
            lock (hearing)
                (tone, lastPiece) = (new(rate), 0);
            Input = await script.InvokeAsync<string>("label", opened);
            listening = opened;
        }
        catch (JSException e)
        {
            Fault = $"The sound input cannot be heard: {e.Message.Split('\n')[0]} Allow this page to use it, and see that nothing else holds it.";
        }
    }

    /// <summary>Samples from the browser: 32-bit floats, the machine's order.</summary>
    /// <param name="number">Counts pieces; one that is missing leaves a gap.</param>
    [JSInvokable]
    public Task Heard(int number, byte[] piece)
    {
        lock (hearing)
        {
            if (tone is null)
                return Task.CompletedTask;
            if (number != lastPiece + 1)
                tone.Forget();
            lastPiece = number;
            tone.Add(MemoryMarshal.Cast<byte, float>(piece));
            if (number % EveryPieces != 0 || isReading)
                return Task.CompletedTask;
            isReading = true;
        }
        _ = Task.Run(Read); // the connection's own thread stays free for the next piece
        return Task.CompletedTask;
    }

    private void Read()
    {
        LiveTone? heard;
        lock (hearing)
            heard = tone;
        LiveReading? reading = heard?.Read();
        lock (hearing)
            isReading = false;
        _ = InvokeAsync(() => Show(reading));
    }

    private void Show(LiveReading? reading)
    {
        if (!IsListening)
            return; // it was read of what came before the end
        Live = reading;
        if (reading is { IsSteady: true })
            Hold(reading);
        StateHasChanged();
    }

    private WaveReading? Wave(LiveReading live) => WaveAnalysis.Of(live.Tone, FullScaleVolts);

    private string FullScale { get; set; } = "";

    private double? FullScaleVolts => double.TryParse(FullScale, NumberStyles.Float, CultureInfo.InvariantCulture, out double volts) && volts is > 0 and < 1000 ? volts : null;

    private static string Words(WaveReading? wave) =>
        wave is null ? "" : wave.Shape.ToString().ToLowerInvariant() + (wave.Duty ?? wave.Rising) switch { { } share when wave.Duty is not null => $", high {100 * share:0.0} %", { } share => $", rises {100 * share:0.0} %", _ => "" };

    private static string Swing(WaveReading? wave) => wave is { InVolts: true } ? $"{wave.PeakToPeak:0.00} V" : "";

    private void HoldNow()
    {
        if (Live is { } live)
            Hold(live);
    }

    private void Hold(LiveReading live)
    {
        if (VoltsOf(live) is not { } volts)
            return;
        UnitReading reading = new(new Volts(volts), 0, new Hertz(Hertz(live)), Clock.Ratio * live.Tone.Uncertainty, Kelvin, "sound input")
        {
            Heard = new(0, 1, live.Tone, Wave(live), null),
        };
        Held = [.. Held.Where(held => Math.Abs(held.Control.Value - volts) >= SameVolts).Append(reading).OrderBy(held => held.Control.Value)];
    }

    private const double Concert = 440;

    private bool IsNearConcert => Live is { IsSteady: true } live && Math.Abs(live.Tone.Frequency.Value / Concert - 1) < 0.02;

    // Readings before it were taken by a clock that was not known yet.
    private void TakeReference()
    {
        if (IsNearConcert && Live is { } live)
            (Clock, Held) = (RecorderClock.Against(live.Tone, Concert, 0), []);
        else
            Fault = "The tone that is heard is not near 440 Hz.";
    }

    private void Clear() => (Held, Kept) = ([], null);

    private void Record()
    {
        if (Place is not { } place || Held.IsEmpty)
            return;
        Keep([SittingEntry.Of(HeldSet!, place, clock.GetUtcNow(), Why)], $"{Figures.WithUnit(Held.Length, "readings")} of {place.Unit}");
    }

    private void RecordSweep(SyncReading sync)
    {
        if (Place is { } place)
            Keep([.. SyncEntry.Of(new(place.Unit, Clock, [], []) { Syncs = [sync] }, clock.GetUtcNow(), Why)], $"The sweep of {place.Unit}");
    }

    private void Keep(IReadOnlyCollection<LogEntry> entries, string what)
    {
        (UnitLog? log, InputError? error) = UnitLog.Open(UnitLog.In(Session.Folder));
        using (log)
            error ??= log!.Record(entries);
        Fault = error is null ? null : $"Nothing was recorded: {error.What}. {error.Mend}";
        Kept = error is null ? $"{what} recorded at {LogTime.Short(clock.GetUtcNow())} UTC" : null;
        Recorded++;
    }

    private string? Why => string.IsNullOrWhiteSpace(Occasion) ? null : Occasion.Trim();

    private int Recorded { get; set; }

    private async Task Stop()
    {
        IJSObjectReference? opened = listening;
        (listening, Live) = (null, null);
        lock (hearing)
            tone = null;
        if (opened is null)
            return;
        await opened.InvokeVoidAsync("stop");
        await opened.DisposeAsync();
    }

    /// <inheritdoc/>
    public async ValueTask DisposeAsync()
    {
        Dispose();
        isLeft = true;
        try
        {
            await Stop();
            if (script is not null)
                await script.DisposeAsync();
        }
        catch (JSDisconnectedException)
        {
            // the tab is gone, and the microphone with it
        }
        self?.Dispose();
    }
}
