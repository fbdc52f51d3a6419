using Consort.Engine.Documents;
using Consort.Engine.Faults;
using Spectre.Console;

namespace Consort.Cli.Printing;

/// <summary>What is likely wrong with a unit, on the terminal.</summary>
internal static class DiagnosisText
{
    private const double Worth = 0.005;

    /// <summary>Prints all of it.</summary>
    public static void Print(Screen screen, UnitDiagnosis found)
    {
        Diagnosis diagnosis = found.Diagnosis;
        screen.Line($"{found.Place.Unit}: {Figures.WithUnit(found.Readings.Length, "readings")} against {Figures.WithUnit(found.Book.Count, "faults")} of its circuit; the furthest lies {diagnosis.Furthest:0.0} deviations from sound units");
        screen.Line();
        if (diagnosis.IsSound)
            screen.Line("No fault is claimed: the readings are those of a sound unit, or no fault here explains them better than none.");
        else
            Ranked(screen, found);
        foreach (NextFigure next in diagnosis.Next.Where(next => next.Bits > 0.01).Take(3))
            screen.Line($"Read next: {found.Book.Figures[next.Figure].Word} of {found.Book.Figures[next.Figure].Place} (tells {next.Bits:0.0} bits)");
        screen.Write(new Text("Caution: probe with one hand, on a supply that limits its current, and do not slip: a bridge between pins kills what was sound. Switch off and wait before soldering; parts and iron burn. Mains is work for a licensed person."));
        if (found.Book.Unsolved > 0)
            screen.Write(new Text($"Note: {found.Book.Unsolved} more of its faults {(found.Book.Unsolved == 1 ? "has" : "have")} a circuit without an answer; nothing is said of them."));
    }

    private static void Ranked(Screen screen, UnitDiagnosis found)
    {
        Table table = Screen.Columns(("", true), ("likely", true), ("explanation", false), ("then this would be", false));
        Explanation[] likely = [.. found.Diagnosis.Ranked.Take(5).Where((one, i) => i == 0 || one.Weight >= Worth)];
        foreach ((Explanation one, int i) in likely.Select((one, i) => (one, i)))
            Screen.Row(table, $"{i + 1}.", $"{100 * one.Weight:0} %", one.Fault.Words + (one.Alike.IsEmpty ? "" : $" (or: {string.Join("; ", one.Alike.Take(3))})"), string.Join("; ", one.Foretold.Take(2).Select(reading => Foretold(found, reading))));
        screen.Write(table);
        if (likely.Any(one => !one.Alike.IsEmpty))
            screen.Line("Explanations in brackets cannot be told from theirs by these readings.");
        if (likely.Length < 5)
            screen.Line($"No other explanation is worth more than {100 * Worth:0.0} %.");
    }

    private static string Foretold(UnitDiagnosis found, FigureReading reading)
    {
        UnitFigure figure = found.Book.Figures[reading.Figure];
        return $"{figure.Word} of {figure.Place} {Figures.Si(figure.Plain(reading.Value), figure.Unit)}";
    }
}
