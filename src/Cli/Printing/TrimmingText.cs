using Consort.Engine.Documents;
using Consort.Engine.Documents.Bench;
using Consort.Engine.Fit;
using Spectre.Console;

namespace Consort.Cli.Printing;

/// <summary>What to turn on a unit, and how it stands against its design, on the terminal.</summary>
internal static class TrimmingText
{
    /// <summary>Prints all of it.</summary>
    public static void Print(Screen screen, UnitTrimming trimming)
    {
        TrimPlan plan = trimming.Plan;
        screen.Line(TrimmingWords.Summary(trimming));
        screen.Line();
        if (plan.Turns.IsEmpty)
            screen.Line(TrimmingWords.NoTurns(plan));
        else
            Turns(screen, plan);
        screen.Line();
        Notes(screen, trimming);
        screen.Line();
        Claims(screen, trimming.Verdict);
        foreach (string caution in TrimmingWords.Cautions(trimming))
            screen.Write(new Text("Caution: " + caution));
        foreach (string note in TrimmingWords.Notes(trimming))
            screen.Write(new Text("Note: " + note));
    }

    private static void Turns(Screen screen, TrimPlan plan)
    {
        Table table = Screen.Columns(("", true), ("trimmer", false), ("for", false), ("turn", false), ("± 95 %", true), ("watch at", true), ("now, Hz", true), ("until, Hz", true), ("finest, cents", true));
        foreach ((TrimTurn turn, int i) in plan.Turns.Select((turn, i) => (turn, i)))
            Screen.Row(table, $"{i + 1}.", turn.Trimmer, turn.Purpose.ToString().ToLowerInvariant(), TrimmingWords.Turn(turn.Turns), $"{TrimmingWords.Coverage * turn.TurnsDeviation:0.00}", $"{turn.Volts:0.##} V",
                TrimmingWords.Hertz(turn.FromHertz), TrimmingWords.Hertz(turn.AimHertz), $"{turn.StepCents:0.00}");
        screen.Write(table);
        screen.Line(TrimmingWords.Stop);
    }

    private static void Notes(Screen screen, UnitTrimming trimming)
    {
        Table table = Screen.Columns(("control", true), ("now, cents", true), ("± 95 %", true), ("after", true), ("± 95 %", true), ("nine of ten builds", true), ("", false));
        for (int n = 0; n < trimming.Plan.Before.Length; n++)
        {
            (Foretold now, Foretold after, BuildBand band) = (trimming.Plan.Before[n], trimming.Plan.After[n], trimming.Verdict.Bands[n]);
            Screen.Row(table, $"{now.Volts:0.##} V", Figures.SignedCents(now.Cents), $"{TrimmingWords.Coverage * now.Deviation:0.00}", Figures.SignedCents(after.Cents), $"{TrimmingWords.Coverage * after.Deviation:0.00}",
                $"{Figures.SignedCents(band.Low)} to {Figures.SignedCents(band.High)}", trimming.Unit.Model.Asked.Contains(n) ? "" : "not asked");
        }
        screen.Write(table);
    }

    private static void Claims(Screen screen, UnitVerdict verdict)
    {
        Table table = Screen.Columns(("claim", false), ("", false), ("figure", true), ("limit", true), ("builds that do better", true));
        foreach (UnitClaim claim in verdict.Claims)
            Screen.Row(table, claim.Title, claim.Standing.ToString().ToLowerInvariant(), TrimmingWords.Figure(claim), TrimmingWords.Limit(claim),
                claim.Percentile is { } share && claim.Unit.Length > 0 ? $"{100 * share:0} %" : "-");
        screen.Write(table);
    }
}
