using Consort.Engine.Documents;
using Consort.Engine.Pitch.Locking;
using Spectre.Console;

namespace Consort.Cli.Printing;

/// <summary>Lock ranges as a table or as JSON.</summary>
internal static class LockText
{
    private const int Version = 1;

    /// <summary>Prints them.</summary>
    public static void Print(Screen screen, LockSheet sheet)
    {
        screen.Line($"{sheet.Voice}, {Figures.Celsius(sheet.Kelvin)}: detune at which the second of two locks to the first, cents");
        Table table = Screen.Columns(("", false), ("keyboard", true), ("locks from", true), ("to", true), ("even beyond", true), ("stands", true), ("beat", true), ("most by", false));
        foreach (PairLock pair in sheet.Pairs)
            Screen.Row(table, $"{pair.First}, {pair.Second}{(pair.Ratio == Ratio.Unison ? "" : $" {pair.Ratio}")}", Figures.Si(pair.Volts, "V"), Figures.SignedFine(pair.Low), Figures.SignedFine(pair.High),
                Figures.SignedFine(pair.Stands < 0 ? pair.BeatsFreelyBelow : pair.BeatsFreelyAbove), Figures.SignedCents(pair.Stands), BeatWords(pair), Paths(pair));
        screen.Write(table);
        screen.Line();
        foreach (CouplingPath path in sheet.Pairs.Where(pair => pair.Stands != 0 && !pair.BeatsFreelyAt(pair.Stands)).Select(pair => pair.Paths[0].Path).Distinct())
            screen.Write(new Text($"Mend for the {CouplingPaths.Words(path)}: {CouplingPaths.Mend(path)}."));
        if (sheet.WorstError is { } error)
            screen.Write(new Text(
                $"From how each oscillator's period answers to what the other brings, by phase. With both in motion in the whole circuit, the widest range of the highest note came out within {Math.Ceiling(100 * error):0} %."));
        else
            screen.Write(new Text("From how each oscillator's period answers to what the other brings, by phase; not held against the whole circuit in motion, where the two would not stay at the phases that matter."));
        if (sheet.Pairs.Any(pair => pair.Ratio != Ratio.Unison))
            screen.Write(new Text("2:1 and the like: so many periods of the second in so many of the first; their detune and 'stands' count from there."));
        foreach (string words in KnownEnds.Words(sheet))
            screen.Write(new Text(words));
        if (sheet.LeftOut > 0)
            screen.Write(new Text($"{(sheet.LeftOut == 1 ? "A pair" : $"{sheet.LeftOut} pairs")} farther than {Ratio.Near:0} cents from {string.Join(", ", Ratio.Looked.Where(ratio => ratio.Second >= ratio.First))} was not looked at."));
        screen.Write(new Text("Detune counts as heard far from lock; nearer than 'even beyond' a beat hangs and jumps: its slowest moment, in % of its fastest beside the beat, is less than half as fast."));
    }

    private static string BeatWords(PairLock pair) =>
        pair.LocksAt(pair.Stands) ? (pair.Stands == 0 ? "tuned alike" : "locked")
        : $"{Figures.Si(Math.Abs(pair.BeatAt(pair.Stands)), "Hz")}, {100 * pair.EvennessAt(pair.Stands):0} %";

    private static string Paths(PairLock pair) =>
        pair.Width > 0 ? CouplingPaths.Words(pair.Paths[0].Path) : "";

    /// <summary>The shape that docs/json.md describes.</summary>
    public static string Json(LockSheet sheet) =>
        JsonText.Write(json =>
        {
            json.Text("shape", "consort lock").Number("version", Version).Text("voice", sheet.Voice).Number("kelvin", sheet.Kelvin).Flag("passed", sheet.Passed);
            json.List("pairs", sheet.Pairs, pair =>
            {
                json.Text("first", pair.First).Text("second", pair.Second).Number("controlVolts", pair.Volts).Number("hertz", pair.Hertz).Text("ratio", $"{pair.Ratio}");
                json.Number("standsCents", pair.Stands).Number("pullCents", pair.Pull).Number("locksFromCents", pair.Low).Number("locksToCents", pair.High).Number("endsWithin", KnownEnds.Within(pair));
                json.Number("beatsEvenlyBelowCents", pair.BeatsFreelyBelow).Number("beatsEvenlyAboveCents", pair.BeatsFreelyAbove);
                json.Flag("locked", pair.LocksAt(pair.Stands)).Number("beatHertz", pair.BeatAt(pair.Stands)).Number("freeBeatHertz", pair.FreeBeatAt(pair.Stands)).Number("evenness", pair.EvennessAt(pair.Stands));
                json.List("paths", pair.Paths, share => json.Text("path", CouplingPaths.Words(share.Path)).Number("cents", share.Cents).Text("mend", CouplingPaths.Mend(share.Path)));
            });
            json.List("checks", sheet.Checks, check =>
                json.Text("first", check.Pair.First).Text("second", check.Pair.Second).Number("controlVolts", check.Pair.Volts).Number("reducedCents", check.Reduced).Number("wholeCents", check.Whole));
            json.Number("pairsLeftOut", sheet.LeftOut).Number("lostShare", sheet.Truncation);
        });
}
