using Consort.Engine.Documents;
using Consort.Engine.Documents.Parts;
using Consort.Engine.Orders;
using Spectre.Console;

namespace Consort.Cli.Printing;

/// <summary>A parts order on the terminal.</summary>
internal static class PartsTables
{
    /// <summary>The order: lines, what is missing, costs, notes; the packing list when it is asked for.</summary>
    public static void Print(Screen screen, PartsOrder order, bool withKit, bool onlyToBuy)
    {
        string money = order.Currency.Length > 0 ? $" {order.Currency}" : "";
        screen.Line($"{order.Voice}: parts of {Figures.WithUnit(order.Units, "units")}");
        foreach (IGrouping<BuildStep, OrderLine> step in order.Lines.Where(line => line.Buy > 0 || !onlyToBuy).GroupBy(line => line.Step))
        {
            screen.Line();
            screen.Line(BuildSteps.Title(step.Key));
            screen.Write(Lines(step));
        }
        Missing(screen, order);
        Costs(screen, order, money);
        if (withKit)
            Bags(screen, order);
        foreach (string note in order.Notes)
            screen.Write(new Text("Note: " + note));
    }

    private static Table Lines(IEnumerable<OrderLine> lines)
    {
        Table table = Screen.Columns(("need", true), ("spare", true), ("have", true), ("buy", true), ("what", false), ("package", false), ("each", true), ("cost", true));
        foreach (OrderLine line in lines)
            Screen.Row(table, $"{line.Need}", $"{line.Spares}", line.Have?.ToString() ?? "-", $"{line.Buy}", line.Called, line.Package, Price(line.Each), Money(line.Cost));
        return table;
    }

    private static void Missing(Screen screen, PartsOrder order)
    {
        OrderLine[] missing = [.. order.Lines.Where(line => line.Missing > 0 && OnTheShelf(line).Any())];
        screen.Line();
        screen.Line($"Missing from the shelf: {order.Lines.Count(line => line.Missing > 0)} of {order.Lines.Length} lines"
            + (missing.Length > 0 ? ". Where another grade on the shelf would do:" : ""));
        if (missing.Length == 0)
            return;
        Table table = Screen.Columns(("missing", true), ("what", false), ("would do instead", false));
        foreach (OrderLine line in missing)
            Screen.Row(table, $"{line.Missing}", line.Called, string.Join("\n", OnTheShelf(line).Select(PartsSheet.Instead)));
        screen.Write(table);
    }

    private static IEnumerable<Substitute> OnTheShelf(OrderLine line) => line.Substitutes.Where(other => other.Have > 0);

    private static void Costs(Screen screen, PartsOrder order, string money)
    {
        screen.Line();
        Table table = Screen.Columns(("cost of parts", false), ("in a voice", true), ("pieces", true), ("of one", true), ("", false));
        foreach (ModuleCost module in order.Modules)
            Screen.Row(table, module.Module, $"{module.Copies}", $"{module.Pieces}", $"{module.Cost:0.00}", Left(module.Unpriced));
        Screen.Row(table, "the whole voice", "1", $"{order.Lines.Sum(line => line.PerVoice)}", $"{order.VoiceCost:0.00}", Left(order.Unpriced));
        screen.Write(table);
        screen.Line($"To buy for {Figures.WithUnit(order.Units, "units")}: {order.ToBuy:0.00}{money}");
    }

    private static string Left(int unpriced) => unpriced == 0 ? "" : $"without {Figures.WithUnit(unpriced, "lines")} of unknown price";

    private static void Bags(Screen screen, PartsOrder order)
    {
        screen.Line();
        screen.Line("Kit of one voice, by bag");
        foreach (KitBag bag in order.Bags)
        {
            screen.Line();
            screen.Line($"bag {bag.Number}: {bag.Module}, {BuildSteps.Title(bag.Step)}{(bag.Copies > 1 ? $" ({bag.Copies} such bags)" : "")}");
            Table table = Screen.Columns(("", true), ("", false), ("", false), ("", false));
            foreach (BagItem item in bag.Items)
                Screen.Row(table, $"{item.Count}", item.What, item.Package, Ranges.Write(item.Designators));
            screen.Write(table);
        }
    }

    private static string Price(decimal? money) => money is { } known ? $"{known:0.00##}" : "?";

    private static string Money(decimal? money) => money is { } known ? $"{known:0.00}" : "?";
}
