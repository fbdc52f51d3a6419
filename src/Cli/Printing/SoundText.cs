using Consort.Engine.Documents;
using Consort.Engine.Sound.Laws;
using Consort.Engine.Sound.Playing;
using Spectre.Console;

namespace Consort.Cli.Printing;

/// <summary>What was played, as a table or as JSON.</summary>
internal static class SoundText
{
    private const string Caution =
        "Caution: oscillators are loud and shrill. Start with the volume down, and keep headphones off the ears for the first listen.";

    /// <summary>Prints it.</summary>
    public static void Print(Screen screen, string file, SampleFormat format, PlayedSound sound)
    {
        screen.Line($"{sound.Voice}: {Figures.Si(sound.Seconds, "s")} written to {file} ({sound.Settings.Rate / 1000.0:0.#} kHz, {Words(format)}, stereo)");
        screen.Line($"highest peak {sound.PeakDb:0.0} dB, rms {sound.RmsDb:0.0} dB against full scale, which is {Figures.Si(sound.VoltsAtFullScale, "V")} at the mixer's output");
        screen.Line();
        Table table = Screen.Columns(("strip", false), ("level dB", true), ("place", true), ("lowest Hz", true), ("highest Hz", true), ("error, cents", true), ("sync", false));
        foreach (Strip strip in sound.Settings.Strips)
        {
            SoundLaw law = LawOf(sound, strip);
            (double low, double high) = Ends(sound, strip);
            Screen.Row(table, strip.Jack, $"{20 * Math.Log10(strip.Gain):0.#}", $"{100 * strip.Place:0} %", Figures.Hertz(law.Pitch.Hertz(low)),
                Figures.Hertz(law.Pitch.Hertz(high)), $"{Figures.SignedCents(law.Pitch.Error(low))} to {Figures.SignedCents(law.Pitch.Error(high))}",
                law.Sync is { } sync ? (sync.From > 0 ? $"held from {100 * sync.From:0} % of its period on" : "held at any phase") : "free");
        }
        screen.Write(table);
        screen.Line();
        screen.Write(new Text(Caution));
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
    public static string Json(string file, SampleFormat format, PlayedSound sound) =>
        JsonText.Write(json =>
        {
            json.Text("shape", "consort sound").Number("version", 1).Text("voice", sound.Voice).Text("file", file);
            json.Number("rateHertz", sound.Settings.Rate).Text("format", Words(format)).Number("seconds", sound.Seconds);
            json.Number("peakDb", sound.PeakDb).Number("rmsDb", sound.RmsDb).Number("voltsAtFullScale", sound.VoltsAtFullScale).Text("caution", Caution);
            json.List("touches", sound.Settings.Score.Touches, touch => json.Number("atSeconds", touch.Seconds).Number("key", touch.Key));
            json.List("strips", sound.Settings.Strips, strip =>
            {
                SoundLaw law = LawOf(sound, strip);
                json.Text("jack", strip.Jack).Number("gain", strip.Gain).Number("place", strip.Place).Number("movedCents", strip.MovedCents);
                json.List("law", law.Pitch.Points, point => json.Number("controlVolts", point.Volts).Number("cents", point.Cents));
                json.Number("syncFromPhase", law.Sync?.From);
            });
        });
}
