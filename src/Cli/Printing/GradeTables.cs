using System.Globalization;
using Consort.Engine.Design;
using Consort.Engine.Pitch.Builds;
using Consort.Engine.Pitch.Grades;
using Consort.Engine.Quantities;
using Spectre.Console;

namespace Consort.Cli.Printing;

/// <summary>Chosen grades on the terminal: what changes, what it costs, what builds do.</summary>
internal static class GradeTables
{
    /// <summary>Prints all of it.</summary>
    public static void Print(Screen screen, Voice voice, double asked, double? sum, GradeFinding finding)
    {
        string wanted = sum is { } most
            ? $"the best yield that {Money(most, finding)} of graded parts buy"
            : $"the cheapest grades with which {Percent(asked)} of trimmed builds keep every limit";
        screen.Write(new Text($"{voice.Name}: {wanted}. The shelf has a choice for {finding.Places.Length} parts that pitch hangs on."));
        screen.Line();
        if (finding.After is null)
            screen.Write(new Text(sum is null ? "None was found, not even among the closest grades of the shelf." : "Even the cheapest grades cost more."));
        else
            Changes(screen, finding);
        screen.Line();
        Table table = Screen.Columns(("of one voice", false), ("graded parts", true), ("yield", true), ("95 % interval", false));
        Screen.Row(table, "as it is", Money(finding.CostBefore, finding), Share(finding.YieldBefore.Share), Interval(finding.YieldBefore));
        if (finding.After is not null)
            Screen.Row(table, "as found", Money(finding.CostAfter, finding), Share(finding.YieldAfter.Share), Interval(finding.YieldAfter));
        screen.Write(table);
        string how = finding.IsExhaustive
            ? $"All choices were within reach, in the order of cost; {finding.Looked} had to be made: nothing cheaper does for those builds"
            : $"{finding.Looked} choices were made; a cheaper one may exist";
        screen.Write(new Text($"{how}. Both yields are of {finding.YieldAfter.Of} other builds, by which nothing was chosen."));
        screen.Write(new Text("Only pitch was judged: waves, widths and levels may want closer parts than it does."));
        if (finding.Checked is { } note)
            screen.Write(new Text($"Against {note.Against}: at most {note.Figure:0.00} cents off."));
    }

    private static void Changes(Screen screen, GradeFinding finding)
    {
        (GradePlace Place, int After, double Weight)[] changed =
        [
            .. finding.Places.Select((place, i) => (place, finding.After!.Value[i], finding.Weights[i].Sum)).Where(p => p.Item2 != p.place.Current),
        ];
        if (changed.Length == 0)
        {
            screen.Line("Nothing is to be changed.");
            return;
        }
        Table table = Screen.Columns(("part", false), ("pieces", true), ("is", false), ("becomes", false), ("cost", true), ("brings now", true));
        foreach ((GradePlace place, int after, double weight) in changed.OrderByDescending(p => p.Weight))
        {
            double more = place.Cost(after) - place.Cost(place.Current);
            Screen.Row(
                table,
                $"{Path.GetFileNameWithoutExtension(place.File)}/{place.Designator}",
                place.Pieces.Length.ToString(CultureInfo.InvariantCulture),
                Grade(place.Grades[place.Current]),
                Grade(place.Grades[after]),
                more.ToString("+0.00;-0.00", CultureInfo.InvariantCulture),
                Share(weight)
            );
        }
        screen.Write(table);
    }

    private static string Grade(Grade grade) => $"{Percent(grade.Tolerance)}, {Drift(grade.Drift)}";

    /// <summary>A relative limit as files have it.</summary>
    public static string Percent(double share) => QuantityText.Write(share, Dimension.Ratio);

    private static string Share(double share) => (100 * share).ToString("0.0", CultureInfo.InvariantCulture) + "%";

    /// <summary>A limit of drift as files have it.</summary>
    public static string Drift(double perKelvin) => QuantityText.Write(perKelvin, Dimension.PerKelvin);

    private static string Interval(YieldInterval yield) => $"{100 * yield.Low:0.0} to {100 * yield.High:0.0}%";

    private static string Money(double sum, GradeFinding finding) => $"{sum.ToString("0.00", CultureInfo.InvariantCulture)} {finding.Currency}".TrimEnd();
}
