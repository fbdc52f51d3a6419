using System.Collections.Immutable;
using Consort.Engine.Documents;
using Consort.Engine.Sound.Drift;
using Consort.Engine.Sound.Laws;
using Consort.Engine.Sound.Noise;
using Consort.Engine.Sound.Playing;
using Spectre.Console;

namespace Consort.Cli.Printing;

/// <summary>Noise and drift that were played, as tables or as JSON.</summary>
internal static class UnrestText
{
    private const int CausesShown = 3;

    /// <summary>Prints what there is of it.</summary>
    public static void Print(Screen screen, PlayedSound sound)
    {
        if (sound.Settings.HasNoise)
            PrintNoise(screen, sound);
        if (sound.Settings.Course is { } course)
            PrintDrift(screen, sound, course);
    }

    private static void PrintNoise(Screen screen, PlayedSound sound)
    {
        screen.Line($"Noise of the circuits' parts, seed {sound.Settings.NoiseSeed}:");
        Table table = Screen.Columns(("oscillator", false), ("Hz", true), ("jitter, cents rms", true), ("wander, cents rms", true), ("most of it from", false));
        foreach (SoundLaw law in sound.Laws)
        {
            ImmutableArray<PeriodNoise> notes = law.Noise!.Periods;
            PeriodNoise middle = notes[notes.Length / 2];
            Screen.Row(table, law.Oscillator.Name, Ends(notes, noise => Figures.Hertz(noise.Hertz)), Ends(notes, noise => Figures.Plain(noise.JitterCents)), Ends(notes, noise => Figures.Plain(noise.WanderCents)),
                string.Join('\n', middle.Causes.Take(CausesShown).Select(cause => $"{cause.Source} {100 * middle.ShareOf(cause):0} %")));
        }
        screen.Write(table);
        screen.Write(new Text($"Jitter: one period against the mean. Wander: {PeriodNoise.LowHertz} Hz to {PeriodNoise.HighHertz:0} Hz of the frequency, without weighting.\n"));
        screen.Line();
        Table floors = Screen.Columns(("output", false), ("noise floor, dBV", true), ("most of it from", false));
        foreach (SoundLaw law in sound.Laws)
            foreach (OutputNoise floor in law.Noise!.Outputs)
                Screen.Row(floors, $"{law.Oscillator.Name}/{floor.Output}", $"{floor.DbVolts:0.0}", $"{floor.Cause} {100 * floor.CauseShare:0} %");
        screen.Write(floors);
        screen.Write(new Text("Floor: 20 Hz to 20 kHz, played as white noise. Left out: noise of the comparators' own decisions, which data sheets do not state; 1/f noise of transistors and of resistors under current, since their sheets give no figure; of controls' contacts; of the mixer.\n"));
        screen.Line();
    }

    private static void PrintDrift(Screen screen, PlayedSound sound, TemperatureCourse course)
    {
        double end = sound.Settings.Score.Seconds;
        string after = course.Rise > 0 ? $" (it begins {Figures.Si(course.OnFor, "s")} after power-on, from where parts rise by {course.Rise:0.#} K with a time constant of {Figures.Si(course.TimeConstant, "s")})" : "";
        screen.Write(new Text($"Temperature of all parts: {Figures.Celsius(course.KelvinAt(0))} when the piece begins, {Figures.Celsius(course.KelvinAt(end))} when it ends{after}.\n"));
        Table table = Screen.Columns(("oscillator", false), ("at the beginning, cents", true), ("at the end, cents", true), ("in between, cents", true));
        foreach (SoundLaw law in sound.Laws)
        {
            double[] cents = Drift(sound, law);
            Screen.Row(table, law.Oscillator.Name, Figures.SignedFine(cents[0]), Figures.SignedFine(cents[^1]), $"{Figures.SignedFine(cents.Min())} to {Figures.SignedFine(cents.Max())}");
        }
        screen.Write(table);
        screen.Write(new Text("Pitch against that at the temperature at which the voice was read, in the middle of the notes. All parts are taken as equally warm.\n"));
        screen.Line();
    }

    private static string Ends(ImmutableArray<PeriodNoise> notes, Func<PeriodNoise, string> word) =>
        notes.Length == 1 ? word(notes[0]) : $"{word(notes[0])} to {word(notes[^1])}";

    private const int DriftPoints = 32;

    private static IEnumerable<(double Seconds, double Kelvin)> Moments(PlayedSound sound) =>
        Enumerable.Range(0, DriftPoints + 1)
            .Select(i => sound.Settings.Score.Seconds * i / DriftPoints)
            .Select(seconds => (seconds, sound.Settings.Course!.KelvinAt(seconds)));

    // At each of them, in the middle of what is played.
    private static double[] Drift(PlayedSound sound, SoundLaw law) => [.. Moments(sound).Select(moment => law.Drift!.Cents(moment.Kelvin, Middle(sound)))];

    private static double Middle(PlayedSound sound) => 0.5 * (sound.Range.Low + sound.Range.High);

    /// <summary>The members that docs/json.md describes.</summary>
    public static void Members(JsonText json, PlayedSound sound)
    {
        if (!sound.Settings.HasNoise)
            json.Text("noise", null);
        else
            json.Object("noise", () =>
            {
                json.Number("seed", sound.Settings.NoiseSeed);
                json.List("oscillators", sound.Laws, law =>
                {
                    json.Text("oscillator", law.Oscillator.Name).Numbers("mix", law.Noise!.Mix);
                    json.List("notes", law.Noise.Periods, noise => Note(json, noise));
                    json.List("outputs", law.Noise.Outputs, floor =>
                        json.Text("output", floor.Output).Number("rmsVolts", floor.Volts).Number("dbVolts", floor.DbVolts).Text("cause", floor.Cause).Number("causeShare", floor.CauseShare));
                });
            });
        if (sound.Settings.Course is not { } course)
        {
            json.Text("drift", null);
            return;
        }
        json.Object("drift", () =>
        {
            json.Number("riseKelvin", course.Rise).Number("timeConstantSeconds", course.TimeConstant).Number("onForSeconds", course.OnFor);
            json.List("temperatures", Moments(sound), moment => json.Number("atSeconds", moment.Seconds).Number("kelvin", moment.Kelvin));
            json.List("oscillators", sound.Laws, law =>
            {
                json.Text("oscillator", law.Oscillator.Name).Number("controlVolts", Middle(sound));
                json.Numbers("cents", [.. Drift(sound, law)]);
            });
        });
    }

    private static void Note(JsonText json, PeriodNoise noise)
    {
        json.Number("controlVolts", noise.Volts).Number("hertz", noise.Hertz);
        json.Number("jitterSeconds", noise.Jitter).Number("jitterCents", noise.JitterCents).Number("walkSeconds", noise.Walk).Number("wanderCents", noise.WanderCents);
        json.Number("whitePerHertz", noise.Density).Number("flickerAtOneHertz", noise.Flicker).Number("lostShare", noise.Truncation);
        json.List("causes", noise.Causes.Take(CausesShown), cause => json.Text("source", cause.Source).Number("share", noise.ShareOf(cause)));
    }
}
