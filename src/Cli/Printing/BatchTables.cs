using Consort.Engine.Bench.Batches;
using Consort.Engine.Documents;
using Spectre.Console;

namespace Consort.Cli.Printing;

/// <summary>A batch of units against the foretold spread on the terminal.</summary>
internal static class BatchTables
{
    /// <summary>Prints all of it.</summary>
    public static void Print(Screen screen, string module, BatchSpread spread)
    {
        screen.Line($"{Figures.WithUnit(spread.Units.Length, "units")} of {module}, as first read, against the spread of stock.yaml");
        screen.Line();
        Table table = Screen.Columns(("figure", false), ("foretold ±1 s", true), ("measured", true), ("ratio", true), ("95 %", true), ("mean", true));
        foreach (BatchFigure figure in spread.Figures)
            Screen.Row(table, figure.What, $"{figure.Foretold:0.00}", $"{figure.Measured:0.00}", $"{figure.Ratio:0.00}", $"{figure.RatioLow:0.00} to {figure.RatioHigh:0.00}", $"{figure.Mean:+0.00;-0.00;0.00} ± {figure.MeanWithin:0.00}");
        screen.Write(table);
        screen.Line();
        foreach (BatchFigure figure in spread.Figures)
            screen.Write(new Text(Words(figure)));
        screen.Write(new Text("Note: trimmers count as set to their middle by eye where no reading says otherwise. Parts off one reel are alike in all units: a batch does not show what they share, but in its mean."));
    }

    private static string Words(BatchFigure figure)
    {
        string causes = string.Join(", ", figure.Causes.Select(cause => $"{cause.What} {100 * cause.Share:0} %"));
        string verdict =
            figure.RatioLow > 1 ? "units lie further apart than the tolerances say"
            : figure.RatioHigh < 1 ? "units lie closer together than the tolerances say"
            : "nothing speaks against the tolerances";
        string truer = figure.Causes.FirstOrDefault(cause => cause.Factor is not null) is { Factor: { } factor } one ? $"; were all else right, {one.What} would be {factor:0.0} times what it is written" : "";
        return $"{figure.What}: {verdict}{truer}. Foretold from {causes}, all parts {100 * figure.PartsShare:0} %; trimmers' places and readings make the rest.";
    }
}
