using Consort.Engine.Documents;
using Consort.Engine.Quantities;
using Consort.Engine.Sound.Laws;
using Consort.Engine.Sound.Playing;
using Spectre.Console;

namespace Consort.Cli.Printing;

/// <summary>What was played, as a table or as JSON.</summary>
internal static class SoundText
{
    private const string Caution =
        "Caution: oscillators are loud and shrill. Start with the volume down, and keep headphones off the ears for the first listen.";

    /// <summary>Prints it, and what was written beside it.</summary>
    public static void Print(Screen screen, string file, SampleFormat format, PlayedSound sound, string besideFile, PlayedSound? beside)
    {
        One(screen, file, format, sound);
        if (beside is not null)
            One(screen, besideFile, format, beside);
        screen.Write(new Text(Caution));
    }

    private static void One(Screen screen, string file, SampleFormat format, PlayedSound sound)
    {
        screen.Line($"{sound.Voice}: {Figures.Si(sound.Seconds, "s")} written to {file} ({sound.Settings.Rate / 1000.0:0.#} kHz, {Words(format)}, stereo)");
        screen.Line($"highest peak {sound.PeakDb:0.0} dB, rms {sound.RmsDb:0.0} dB against full scale, which is {Figures.Si(sound.VoltsAtFullScale, "V")} at the mixer's output ({sound.DbuAtFullScale:+0.0;-0.0} dBu for a sine)");
        screen.Line();
        Table table = Screen.Columns(("strip", false), ("level dB", true), ("place", true), ("lowest Hz", true), ("highest Hz", true), ("error, cents", true), ("beats, Hz", true), ("sync", false));
        foreach (Strip strip in sound.Settings.Strips)
        {
            SoundLaw law = LawOf(sound, strip);
            (double low, double high) = Ends(sound, strip);
            HeardOscillator heard = HeardOf(sound, strip);
            (double lowest, double highest) = Ends(sound, strip with { MovedCents = 0 });
            Screen.Row(table, strip.Jack, $"{20 * Math.Log10(strip.Gain):0.#}", $"{100 * strip.Place:0} %", Figures.Hertz(heard.At(lowest).Hertz),
                Figures.Hertz(heard.At(highest).Hertz), $"{Figures.SignedCents(law.Pitch.Error(low))} to {Figures.SignedCents(law.Pitch.Error(high))}", Beats(sound, strip),
                SyncWords.State(heard, lowest, highest));
        }
        screen.Write(table);
        Held(screen, sound);
        screen.Line();
        UnrestText.Print(screen, sound);
    }

    // Against the first strip's oscillator, at the lowest and the highest note.
    private static string Beats(PlayedSound sound, Strip strip)
    {
        Strip first = sound.Settings.Strips[0];
        if (strip.Oscillator == first.Oscillator)
            return "";
        (double low, double high) = Ends(sound, first with { MovedCents = 0 });
        return Beat(low) == "none" && Beat(high) == "none" ? "none" : $"{Beat(low)} to {Beat(high)}";

        string Beat(double volts) => BeatCurve.At(HeardOf(sound, first), HeardOf(sound, strip), volts) is var point && point.AreHeld ? "none" : Figures.SignedFine(point.Hertz);
    }

    private static HeardOscillator HeardOf(PlayedSound sound, Strip strip) => HeardOscillator.Of(sound.Laws, sound.Settings.Strips, strip);

    // What the column of sync is too narrow for.
    private static void Held(Screen screen, PlayedSound sound)
    {
        double key = sound.Settings.Score.Touches.FirstOrDefault(touch => touch.Key is not null).Key ?? 0;
        double volts = LawReader.VoltsOf(sound.Laws[0].Oscillator, key) + sound.Settings.MovedCents / 1200 * sound.Laws[0].Oscillator.Spec.VoltsPerOctave;
        foreach (Strip strip in sound.Settings.Strips.DistinctBy(strip => strip.Oscillator).Where(strip => LawOf(sound, strip).Sync is not null))
            screen.Line($"{strip.Oscillator} is pulled by {sound.Laws[0].Oscillator.Name}; at {NoteName.Write((int)Math.Round(key))} {SyncWords.Range(HeardOf(sound, strip).HeldRange(volts))}");
    }

    private static (double Low, double High) Ends(PlayedSound sound, Strip strip)
    {
        double[] keys = [.. sound.Settings.Score.Touches.Where(touch => touch.Key is not null).Select(touch => LawReader.VoltsOf(sound.Laws[0].Oscillator, touch.Key!.Value))];
        double moved = (sound.Settings.MovedCents + strip.MovedCents) / 1200 * LawOf(sound, strip).Oscillator.Spec.VoltsPerOctave;
        return keys.Length == 0 ? (0, 0) : (keys.Min() + moved, keys.Max() + moved);
    }

    private static SoundLaw LawOf(PlayedSound sound, Strip strip) => sound.Laws.First(law => law.Oscillator.Name == strip.Oscillator);

    private static string Words(SampleFormat format) =>
        format switch { SampleFormat.Bits16 => "16 bit", SampleFormat.Bits24 => "24 bit", _ => "32 bit float" };

    /// <summary>The shape that docs/json.md describes.</summary>
    public static string Json(string file, SampleFormat format, PlayedSound sound, string besideFile, PlayedSound? beside) =>
        JsonText.Write(json =>
        {
            json.Text("shape", "consort sound").Number("version", 2);
            Members(json, file, format, sound);
            if (beside is null)
                json.Text("beside", null);
            else
                json.Object("beside", () => Members(json, besideFile, format, beside));
            json.Text("caution", Caution);
        });

    private static void Members(JsonText json, string file, SampleFormat format, PlayedSound sound)
    {
        json.Text("voice", sound.Voice).Text("file", file);
        json.Number("rateHertz", sound.Settings.Rate).Text("format", Words(format)).Number("seconds", sound.Seconds);
        json.Number("peakDb", sound.PeakDb).Number("rmsDb", sound.RmsDb).Number("voltsAtFullScale", sound.VoltsAtFullScale).Number("dbuAtFullScale", sound.DbuAtFullScale);
        json.List("touches", sound.Settings.Score.Touches, touch => json.Number("atSeconds", touch.Seconds).Number("key", touch.Key));
        json.List("strips", sound.Settings.Strips, strip =>
        {
            SoundLaw law = LawOf(sound, strip);
            json.Text("jack", strip.Jack).Number("gain", strip.Gain).Number("place", strip.Place).Number("movedCents", strip.MovedCents);
            json.List("law", law.Pitch.Points, point => json.Number("controlVolts", point.Volts).Number("cents", point.Cents));
            Sync(json, sound, strip);
        });
        json.List("beats", BeatCurve.Of(sound.Laws, sound.Settings.Strips), curve =>
        {
            json.Text("first", curve.First).Text("second", curve.Second);
            json.List("points", curve.Points, point => json.Number("controlVolts", point.Volts).Number("hertz", point.Hertz).Number("idealHertz", point.IdealHertz).Flag("held", point.AreHeld));
        });
        UnrestText.Members(json, sound);
    }

    private static void Sync(JsonText json, PlayedSound sound, Strip strip)
    {
        if (LawOf(sound, strip).Sync is not { } sync)
        {
            json.Text("sync", null);
            return;
        }
        HeardOscillator heard = HeardOf(sound, strip);
        (double low, double high) = Ends(sound, strip with { MovedCents = 0 });
        json.Object("sync", () => json.Number("leadPhase", sync.Mark).List("notes", (double[])[low, high], volts =>
        {
            (double From, double To)? range = heard.HeldRange(volts);
            json.Number("controlVolts", volts).Flag("held", heard.Holding(volts)!.Value.IsHeld).Number("heldFromCents", range?.From).Number("heldToCents", range?.To);
        }));
    }
}
