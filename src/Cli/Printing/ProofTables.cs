using Consort.Engine.Design;
using Consort.Engine.Documents;
using Consort.Engine.Pitch;
using Spectre.Console;

namespace Consort.Cli.Printing;

/// <summary>A proof on the terminal: verdict, claims, tracking, link, and how good the figures are.</summary>
internal static class ProofTables
{
    private const int MostReadings = 10; // so many columns of cents fit beside the names

    private static readonly Style Bold = new(decoration: Decoration.Bold);

    /// <summary>Prints all of it.</summary>
    public static void Print(Screen screen, Proof proof)
    {
        string name = proof.Build is { } build ? $"{proof.Voice}, build {build}" : proof.Voice;
        screen.Line($"{name}. {ReportPage.Verdict(proof)}");
        screen.Line();
        screen.Write(Claims(proof));
        Tracking(screen, proof);
        if (proof.Spread is { } spread)
            SpreadTables.Print(screen, spread);
        Link(screen, proof);
        Trims(screen, proof);
        Accuracy(screen, proof);
    }

    private static Table Claims(Proof proof)
    {
        Table table = Screen.Columns(("claim", false), ("found", true), ("asked", false), ("", false), ("main cause", false));
        foreach (TableColumn column in table.Columns.SkipLast(1))
            column.NoWrap();
        foreach (Claim claim in proof.Claims)
        {
            string asked = $"{(claim.Sense == LimitSense.AtMost ? "at most" : "at least")} {Figures.WithUnit(claim.Limit, claim.Unit)}";
            string cause = claim.Mend is { } mend ? $"{claim.Cause}\nmend: {mend}" : claim.Cause;
            table.AddRow(
                new Text(claim.Key),
                new Text(Figures.WithUnit(claim.Figure, claim.Unit)),
                new Text(asked),
                claim.Passed ? new Text("pass") : new Text("MISS", Bold),
                new Text(cause)
            );
        }
        return table;
    }

    private static void Tracking(Screen screen, Proof proof)
    {
        if (proof.Tracking.IsEmpty)
            return;
        int[] shown = Shown(proof.Tracking[0].Points);
        for (int from = 0; from < shown.Length; from += MostReadings)
        {
            screen.Line();
            screen.Line(from == 0 ? "Tracking: error in cents at each control voltage, trims as set at 25 °C" : "Tracking, continued");
            screen.Write(Readings(proof, shown[from..Math.Min(shown.Length, from + MostReadings)]));
        }
    }

    /// <summary>All readings, or those at whole volts when all are too many for one table.</summary>
    private static int[] Shown(IReadOnlyList<TrackingPoint> points)
    {
        int[] all = [.. Enumerable.Range(0, points.Count)];
        int[] whole = [.. all.Where(i => Math.Abs(points[i].ControlVolts - Math.Round(points[i].ControlVolts)) < 1e-9)];
        return all.Length <= MostReadings || whole.Length < 4 ? all : whole;
    }

    private static Table Readings(Proof proof, int[] shown)
    {
        IReadOnlyList<TrackingPoint> first = proof.Tracking[0].Points;
        Table table = Screen.Columns([("", false), ("", true), .. shown.Select(i => ($"{first[i].ControlVolts:0.##} V", true))]);
        foreach (IGrouping<string, TrackingCurve> oscillator in proof.Tracking.GroupBy(curve => curve.Oscillator))
        {
            string name = oscillator.Key == proof.Tracking[0].Oscillator ? "" : oscillator.Key; // named in the first row
            foreach (TrackingCurve curve in oscillator)
            {
                Screen.Row(table, [name, Figures.Celsius(curve.Kelvin), .. shown.Select(i => Cents(curve, i))]);
                name = "";
            }
        }
        string[] ideal = [.. shown.Select(i => Figures.Hertz(first[i].IdealHertz))];
        table.InsertRow(0, [.. new[] { proof.Tracking[0].Oscillator, "ideal Hz" }.Concat(ideal).Select(text => new Text(text))]);
        return table;
    }

    private static string Cents(TrackingCurve curve, int i) =>
        i < curve.Points.Length ? Figures.SignedCents(curve.Points[i].Cents) : "";

    private static void Link(Screen screen, Proof proof)
    {
        if (proof.Chain is not { } chain)
            return;
        screen.Line();
        screen.Write(new Text(ReportPage.LinkSentence(chain, proof.Limits.Followers)));
        Table table = Screen.Columns(
            [("followers", false), .. chain.Points.Where(IsShown).Select(point => ($"{point.Followers}", true))]
        );
        AddRow(table, "error, cents", chain, point => Figures.SignedCents(point.WorstCents));
        AddRow(table, "drive left, mA", chain, point => double.IsFinite(point.DriveLeftAmps) ? $"{1e3 * point.DriveLeftAmps:0.0}" : "-");
        AddRow(table, "peaking, dB", chain, point => double.IsPositiveInfinity(point.PeakingDb) ? "unst." : $"{point.PeakingDb:0.0}");
        AddRow(table, "ground, mV", chain, point => $"{1e3 * point.GroundOffsetVolts:0.00}");
        AddRow(table, "", chain, point => point.Passed ? "pass" : "MISS");
        screen.Write(table);

        // Twelve columns fit: the first few, those around the limit, and the last.
        bool IsShown(ChainPoint point) =>
            chain.Points.Length <= 11
            || point.Followers <= 3
            || Math.Abs(point.Followers - chain.Largest) <= 1
            || point.Followers == chain.Points[^1].Followers
            || point.Followers % 4 == 0;
        void AddRow(Table into, string title, ChainStudy study, Func<ChainPoint, string> cell) =>
            Screen.Row(into, [title, .. study.Points.Where(IsShown).Select(cell)]);
    }

    private static void Trims(Screen screen, Proof proof)
    {
        TrimResult[] pitch = [.. proof.Trims.Where(trim => trim.Purpose != TrimPurpose.Other)];
        if (pitch.Length == 0)
            return;
        screen.Line();
        screen.Line("Trims: position from the counter-clockwise end, and how much of the range is used");
        Table table = Screen.Columns(("", false), ("", false), ("", false), ("", true), ("", true), ("", true), ("", false));
        string last = "";
        foreach (TrimResult trim in pitch)
        {
            string name = trim.Oscillator == last ? "" : trim.Oscillator;
            last = trim.Oscillator;
            Screen.Row(table, name, trim.Trimmer, ReportPage.TrimWord(trim.Purpose), $"{100 * trim.Position:0.0} %", $"{100 * trim.RangeUsed:0} % used",
                $"{Figures.SignedCents(trim.CentsPerTurn)} {ReportPage.TrimUnit(trim.Purpose)} a turn", trim.Reached ? "" : "AT ITS END");
        }
        screen.Write(table);
    }

    private static void Accuracy(Screen screen, Proof proof)
    {
        if (!proof.Accuracy.IsEmpty)
        {
            screen.Line();
            screen.Line("How good these figures are");
            Table table = Screen.Columns(("", false), ("", true), ("", false));
            foreach (AccuracyNote note in proof.Accuracy)
                Screen.Row(table, note.What, Figures.WithUnit(note.Figure, note.Unit), "against " + note.Against);
            screen.Write(table);
        }
        foreach (string note in proof.Notes)
            screen.Write(new Text("Note: " + note));
    }
}
