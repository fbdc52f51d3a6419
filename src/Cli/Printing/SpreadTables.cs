using System.Globalization;
using Consort.Engine.Documents;
using Consort.Engine.Pitch.Builds.Spread;
using Consort.Engine.Quantities;
using Spectre.Console;

namespace Consort.Cli.Printing;

/// <summary>What builds do, on the terminal: against each limit, trimmers, followers, parts, the worst builds.</summary>
internal static class SpreadTables
{
    private const int MostParts = 8;

    /// <summary>Prints all of it.</summary>
    public static void Print(Screen screen, SpreadResult spread)
    {
        screen.Line();
        string builds = spread.Builds.ToString("N0", CultureInfo.InvariantCulture);
        screen.Write(new Text($"Builds: {builds}, every part drawn within its limits ({spread.Points}), each trimmed at 25 °C as its sheet says"));
        screen.Write(Limits(spread));
        if (spread.Lag is { } lag)
            screen.Write(new Text(SpreadWords.Write(lag)));
        Trimmers(screen, spread);
        Followers(screen, spread);
        Parts(screen, spread);
        Worst(screen, spread);
    }

    private static Table Limits(SpreadResult spread)
    {
        Table table = Screen.Columns(("cents", false), ("half within", true), ("19 of 20 within", true), ("worst", true), ("kept by", true), ("95 % interval", false));
        foreach (SpreadFigure figure in spread.Figures)
            Screen.Row(
                table,
                $"{figure.Key}, at most {figure.Limit:0.##}",
                Figures.CentsOrNone(figure.Median),
                Figures.CentsOrNone(figure.Most),
                Figures.CentsOrNone(figure.Worst),
                ShareText.Write(figure.Kept.Share),
                $"{ShareText.Write(figure.Kept.Low)} to {ShareText.Write(figure.Kept.High)}"
            );
        return table;
    }

    private static void Trimmers(Screen screen, SpreadResult spread)
    {
        if (spread.Trimmers.IsEmpty)
            return;
        screen.Line();
        screen.Line("Trimmers in builds: where nine of ten stand, per cent of the turn, and how often one is at its end");
        Table table = Screen.Columns(("", false), ("", false), ("", false), ("stand", true), ("middle", true), ("at an end", true), ("a degree is", true), ("finest step", true));
        string last = "";
        foreach (TrimmerUse use in spread.Trimmers)
        {
            string atEnd = use.RunsOut.Passed == 0 ? "never" : $"{ShareText.Write(use.RunsOut.Share)}, {Figures.CentsOrNone(use.MissingCents)} short";
            string name = use.Oscillator == last ? "" : use.Oscillator;
            last = use.Oscillator;
            Screen.Row(
                table,
                name,
                use.Trimmer,
                ReportPage.TrimWord(use.Purpose),
                $"{100 * use.Low:0} to {100 * use.High:0}",
                $"{100 * use.Median:0}",
                atEnd,
                $"{use.CentsPerDegree:+0.000;-0.000}",
                $"{use.Step:0.00}"
            );
        }
        screen.Write(table);
    }

    private static void Followers(Screen screen, SpreadResult spread)
    {
        if (spread.Followers.IsEmpty)
            return;
        screen.Line();
        screen.Line("Followers against their lead: 19 of 20 builds wander less, in cents and beats a second");
        FollowerWander[] first = [.. spread.Followers.Where(f => f.Follower == spread.Followers[0].Follower)];
        Table table = Screen.Columns([("", false), ("", false), .. first.Select(f => ($"{f.ControlVolts:0.##} V", true))]);
        foreach (IGrouping<string, FollowerWander> follower in spread.Followers.GroupBy(f => f.Follower))
        {
            Screen.Row(table, [follower.Key, "cents", .. follower.Select(f => Figures.CentsOrNone(f.MostCents))]);
            Screen.Row(table, ["", "beats", .. follower.Select(f => f.MostBeats.ToString("0.00", CultureInfo.InvariantCulture))]);
        }
        screen.Write(table);
    }

    private static void Parts(Screen screen, SpreadResult spread)
    {
        if (spread.Shares.IsEmpty)
            return;
        screen.Line();
        screen.Line("What brings the variance that trimming leaves (the rest is how finely trimmers are set)");
        Table table = Screen.Columns(("", false), ("", false), ("tracking", true), ("drift", true), ("followers", true), ("give or take", true));
        foreach (PartShare share in spread.Shares.Take(MostParts))
            Screen.Row(table, share.Part, share.Parameter, ShareText.Write(share.Tracking), ShareText.Write(share.Drift), ShareText.Write(share.Followers), ShareText.Write(share.Error));
        screen.Write(table);
    }

    private static void Worst(Screen screen, SpreadResult spread)
    {
        if (spread.Worst.IsEmpty)
            return;
        string numbers = string.Join(", ", spread.Worst.Select(build => build.Number.ToString(CultureInfo.InvariantCulture)));
        screen.Write(new Text($"Worst builds: {numbers}. Look at one with --build {spread.Worst[0].Number}" + (spread.Seed == 1 ? "" : $" --seed {spread.Seed}")));
    }
}
