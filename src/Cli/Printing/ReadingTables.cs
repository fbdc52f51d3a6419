using Consort.Engine.Bench;
using Consort.Engine.Bench.Readings;
using Consort.Engine.Bench.Sync;
using Consort.Engine.Bench.Tones;
using Consort.Engine.Bench.Waveforms;
using Consort.Engine.Documents;
using Consort.Engine.Quantities;
using Spectre.Console;

namespace Consort.Cli.Printing;

/// <summary>A unit's readings on the terminal.</summary>
internal static class ReadingTables
{
    // Standard uncertainties times two cover 95 % (JCGM 100:2008, 6.3.3).
    private const double Coverage = 2;

    /// <summary>Prints all of it.</summary>
    public static void Print(Screen screen, UnitPlace place, ReadingSet set)
    {
        screen.Line($"{set.Unit}: {Figures.WithUnit(set.Readings.Length, "readings")} against {Law(place)}");
        screen.Line();
        if (!set.Readings.IsEmpty)
            Pitches(screen, place, set);
        if (PitchLine.Through(place, set.Readings) is { } line)
            screen.Line($"Straight line through them: {Figures.SignedCents(line.CentsPerOctave)} cents an octave, {Figures.SignedCents(line.CentsAtMiddle)} cents at {line.MiddleVolts:0.##} V, left over {line.Worst:0.00} cents.");
        Waves(screen, set);
        Pairs(screen, set);
        foreach (SyncReading sync in set.Syncs)
            Sync(screen, sync);
        screen.Line();
        if (set.Clock.IsCalibrated)
            screen.Line($"Recorder's clock: {set.Clock.Ppm:+0.0;-0.0;0.0} ppm, set right in all readings.");
        foreach (string note in set.Notes)
            screen.Write(new Text("Note: " + note));
    }

    private static string Law(UnitPlace place) =>
        $"{QuantityText.Write(place.Law.VoltsPerOctave, Dimension.Voltage)}/octave from {QuantityText.Write(place.Law.ReferenceFrequency, Dimension.Frequency, 6)} at {QuantityText.Write(place.Law.ReferenceVoltage, Dimension.Voltage)}";

    private static void Pitches(Screen screen, UnitPlace place, ReadingSet set)
    {
        bool hasWarmth = set.Readings.Any(reading => reading.Kelvin is not null);
        Table table = Screen.Columns([("control", true), ("Hz", true), ("cents", true), ("±, 95 %", true), .. hasWarmth ? [("at", true)] : Array.Empty<(string, bool)>(), ("from", false)]);
        foreach (UnitReading reading in set.Readings)
        {
            double volts = reading.Control.Value;
            Screen.Row(table, [
                $"{volts:0.####} V",
                Digits(reading.Frequency.Value, reading.Uncertainty),
                Figures.SignedCents(place.Cents(volts, reading.Frequency.Value)),
                Spread(Coverage * reading.UncertaintyCents(place.Law.VoltsPerOctave)),
                .. hasWarmth ? [reading.Kelvin is { } kelvin ? Figures.Celsius(kelvin) : "-"] : Array.Empty<string>(),
                Path.GetFileName(reading.From),
            ]);
        }
        screen.Write(table);
    }

    /// <summary>A frequency with the digits that mean something, six at least.</summary>
    private static string Digits(double hertz, double uncertainty)
    {
        int places = uncertainty > 0 ? Math.Clamp((int)Math.Ceiling(-Math.Log10(uncertainty)), 0, 6) : 4;
        return hertz.ToString($"F{Math.Max(places, Math.Max(0, 5 - (int)Math.Floor(Math.Log10(hertz))))}");
    }

    private static string Spread(double cents) => cents >= 0.01 ? cents.ToString("0.00") : cents >= 1e-4 ? cents.ToString("0.0000") : "<0.0001";

    private static void Waves(Screen screen, ReadingSet set)
    {
        UnitReading[] waves = [.. set.Readings.Where(reading => reading.Heard?.Wave is not null)];
        if (waves.Length == 0)
            return;
        bool inVolts = waves[0].Heard!.Wave!.InVolts;
        screen.Line();
        Table table = Screen.Columns(("control", true), ("wave", false), ("duty", true), ("rising", true), ("distortion", true), (inVolts ? "V p-p" : "p-p of full", true), ("noise, dB", true), ("hum, dB", true), ("drift, cents", true));
        foreach (UnitReading reading in waves)
        {
            (WaveReading wave, ToneReading tone) = (reading.Heard!.Wave!, reading.Heard.Tone!);
            Screen.Row(
                table,
                $"{reading.Control.Value:0.####} V",
                wave.ShapeMisfit > 0.2 ? $"{wave.Shape.ToString().ToLowerInvariant()}?" : wave.Shape.ToString().ToLowerInvariant(),
                Percent(wave.Duty),
                Percent(wave.Rising),
                $"{100 * wave.Distortion:0.00} %",
                inVolts ? $"{wave.PeakToPeak:0.00}" : $"{wave.PeakToPeak / 2:0.000}",
                $"{-tone.SignalToNoise:0}",
                tone.HumShare is { } hum ? $"{hum:0}" : "-",
                Figures.SignedFine(tone.DriftCents)
            );
        }
        screen.Write(table);
    }

    private static void Sync(Screen screen, SyncReading sync)
    {
        screen.Line($"Sync in {Path.GetFileName(sync.File)}: the follower's own pitch ran from {Figures.SignedCents(sync.FromCents)} to {Figures.SignedCents(sync.ToCents)} cents against the lead's.");
        if (sync.Holds.IsEmpty)
        {
            screen.Line($"It holds nowhere. A hold narrower than {sync.LeastCents:0} cents is not told from a passing by: sweep slower to see it.");
            return;
        }
        Table table = Screen.Columns(("holds", false), ("lead, Hz", true), ("from, cents", true), ("±, 95 %", true), ("to, cents", true), ("±, 95 %", true));
        foreach (SyncHold hold in sync.Holds)
            Screen.Row(table, [$"{hold.Start:0.0} s to {hold.End:0.0} s", $"{hold.LeadHertz:0.00}", .. Edge(hold.Flat), .. Edge(hold.Sharp)]);
        screen.Write(table);
        if (sync.Holds.Any(hold => !hold.Flat.IsReached || !hold.Sharp.IsReached))
            screen.Line("(held): it still held where the sweep began or ended.");
    }

    private static string[] Edge(SyncEdge edge) =>
        [Figures.SignedCents(edge.Cents), edge.IsReached ? Spread(Coverage * edge.Uncertainty) : "(held)"];

    private static string Percent(double? share) => share is { } value ? $"{100 * value:0.00} %" : "-";

    private static void Pairs(Screen screen, ReadingSet set)
    {
        UnitReading[] pairs = [.. set.Readings.Where(reading => reading.Heard?.Pair is not null)];
        if (pairs.Length == 0)
            return;
        screen.Line();
        Table table = Screen.Columns(("control", true), ("lower, Hz", true), ("higher, Hz", true), ("apart, cents", true), ("beat, Hz", true), ("±, 95 %", true));
        foreach (UnitReading reading in pairs)
        {
            PairReading pair = reading.Heard!.Pair!;
            Screen.Row(
                table,
                $"{reading.Control.Value:0.####} V",
                Digits(pair.Low.Frequency.Value, pair.Low.Uncertainty),
                Digits(pair.High.Frequency.Value, pair.High.Uncertainty),
                $"{pair.Interval.Value:0.000}",
                $"{pair.Beat.Value:0.0000}",
                $"{Coverage * pair.BeatUncertainty:0.0000}"
            );
        }
        screen.Write(table);
    }
}
