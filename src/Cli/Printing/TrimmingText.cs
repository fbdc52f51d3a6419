using Consort.Engine.Documents;
using Consort.Engine.Fit;
using Spectre.Console;

namespace Consort.Cli.Printing;

/// <summary>What to turn on a unit, and how it stands against its design, on the terminal.</summary>
internal static class TrimmingText
{
    private const double Coverage = 2; // standard uncertainties: 95 % (JCGM 100:2008, 6.3.3)

    /// <summary>Prints all of it.</summary>
    public static void Print(Screen screen, UnitTrimming trimming)
    {
        FittedUnit unit = trimming.Unit;
        TrimPlan plan = trimming.Plan;
        double limit = unit.Model.Limits.TrackingCents;
        screen.Line($"{unit.Model.Place.Unit}: fitted to {Figures.WithUnit(unit.Points.Points.Length, "readings")}; within {limit:0.##} cents by {100 * plan.ChanceBefore:0} % as it stands, by {100 * plan.ChanceAfter:0} % after these turns");
        screen.Line();
        if (plan.Turns.IsEmpty)
            screen.Line(plan.ChanceBefore >= 0.5 ? "Nothing needs turning." : "No turn helps.");
        else
            Turns(screen, plan);
        screen.Line();
        Notes(screen, trimming);
        screen.Line();
        Claims(screen, trimming.Verdict);
        if (unit.Width.Parts > 2 || unit.Width.Smooth > 1)
            screen.Write(new Text($"Note: the design's spread does not hold these readings: parts were allowed {unit.Width.Parts:0.#} times theirs, and {unit.Width.Smooth:0.##} cents that no part explains."));
        foreach (string caution in plan.Cautions)
            screen.Write(new Text("Caution: " + caution));
        if (!plan.Turns.IsEmpty)
            screen.Write(new Text("Caution: the unit is open and fed. Turn with a driver of plastic, touch nothing else, keep rings and chains off, and leave anything that carries mains to a person licensed for it."));
        foreach (string note in trimming.Notes)
            screen.Write(new Text("Note: " + note));
    }

    private static void Turns(Screen screen, TrimPlan plan)
    {
        Table table = Screen.Columns(("", true), ("trimmer", false), ("for", false), ("turn", false), ("± 95 %", true), ("watch at", true), ("now, Hz", true), ("until, Hz", true), ("finest, cents", true));
        foreach ((TrimTurn turn, int i) in plan.Turns.Select((turn, i) => (turn, i)))
            Screen.Row(table, $"{i + 1}.", turn.Trimmer, turn.Purpose.ToString().ToLowerInvariant(), Turn(turn.Turns), $"{Coverage * turn.TurnsDeviation:0.00}", $"{turn.Volts:0.##} V",
                Hertz(turn.FromHertz), Hertz(turn.AimHertz), $"{turn.StepCents:0.00}");
        screen.Write(table);
        screen.Line("Stop at the frequency, not at the count; turns still to come are in it. Then read again.");
    }

    private static string Turn(double turns) =>
        $"{(Math.Abs(turns) < 0.95 ? $"{360 * Math.Abs(turns):0}°" : $"{Math.Abs(turns):0.0} turns")} {(turns >= 0 ? "clockwise" : "counter-clockwise")}";

    private static string Hertz(double hertz) => hertz.ToString(hertz >= 1000 ? "0.0" : hertz >= 100 ? "0.00" : "0.000");

    private static void Notes(Screen screen, UnitTrimming trimming)
    {
        Table table = Screen.Columns(("control", true), ("now, cents", true), ("± 95 %", true), ("after", true), ("± 95 %", true), ("nine of ten builds", true), ("", false));
        for (int n = 0; n < trimming.Plan.Before.Length; n++)
        {
            (Foretold now, Foretold after, BuildBand band) = (trimming.Plan.Before[n], trimming.Plan.After[n], trimming.Verdict.Bands[n]);
            Screen.Row(table, $"{now.Volts:0.##} V", Figures.SignedCents(now.Cents), $"{Coverage * now.Deviation:0.00}", Figures.SignedCents(after.Cents), $"{Coverage * after.Deviation:0.00}",
                $"{Figures.SignedCents(band.Low)} to {Figures.SignedCents(band.High)}", trimming.Unit.Model.Asked.Contains(n) ? "" : "not asked");
        }
        screen.Write(table);
    }

    private static void Claims(Screen screen, UnitVerdict verdict)
    {
        Table table = Screen.Columns(("claim", false), ("", false), ("figure", true), ("limit", true), ("builds that do better", true));
        foreach (UnitClaim claim in verdict.Claims)
            Screen.Row(table, claim.Title, claim.Standing.ToString().ToLowerInvariant(), claim.Unit.Length == 0 ? $"{claim.Figure:0.0000}" : $"{claim.Figure:0.00} ± {Coverage * claim.Deviation:0.00}", claim.Unit.Length == 0 ? $"{claim.Limit:0.0000}" : $"{claim.Limit:0.##} {claim.Unit}",
                claim.Percentile is { } share && claim.Unit.Length > 0 ? $"{100 * share:0} %" : "-");
        screen.Write(table);
    }
}
