using System.Globalization;
using Consort.Engine.Faults;

namespace Consort.Tests.Invented;

/// <summary>Blind trials of fault finding as rows of tables.</summary>
internal static class FaultTallies
{
    public static readonly string[] Columns = ["module", "faults in the book", "that show", "figures read", "trials", "true first", "in three", "after three more: first", "in three", "right part first", "in three", "none claimed", "sound units without a claim"];
    public static readonly string[] GrowingColumns = ["module", "figures read: the fewest at first", "true first", .. Enumerable.Range(1, FaultTrials.Rounds).Select(round => $"after {3 * round} more"), .. Enumerable.Range(0, FaultTrials.Rounds + 1).Select(round => round == 0 ? "in three" : $"after {3 * round} more")];

    /// <summary>One module's row; two figures a cell: the very fault, and it or one alike.</summary>
    public static string[] Row(string module, FaultTrials trials)
    {
        FaultTrial[] seen = trials.Seen;
        FaultRank[] full = [.. seen.Select(one => one.Full[0])], later = [.. seen.Select(one => one.Full[1])];
        return [module, Count(trials.Book.Count), Count(trials.Visible), Count(trials.Read.All), Count(seen.Length), Both(full, 1), Both(full, 3), Both(later, 1), Both(later, 3), Share(full, one => one.Part is 1), Share(full, one => one.Part is 1 or 2 or 3), Count(seen.Count(one => one.Taken is null)), $"{trials.Sound - trials.SoundClaimed.Count} of {trials.Sound}"];
    }

    /// <summary>The same from a few readings on.</summary>
    public static string[] Growing(string module, FaultTrials trials)
    {
        FaultRank[][] seen = [.. trials.Seen.Select(one => one.Growing)];
        IEnumerable<string> Each(int most) => Enumerable.Range(0, FaultTrials.Rounds + 1).Select(round => Both([.. seen.Select(one => one[round])], most));
        return [module, Count(trials.Read.Jacks), .. Each(1), .. Each(3)];
    }

    /// <summary>Share of trials in which the fault, or it or one alike, is among so many.</summary>
    public static string Both(FaultRank[] ranks, int most) => $"{Share(ranks, one => one.Own >= 1 && one.Own <= most)} / {Share(ranks, one => one.Alike >= 1 && one.Alike <= most)}";

    public static string Share(FaultRank[] ranks, Func<FaultRank, bool> counts) => ranks.Length == 0 ? "-" : string.Create(CultureInfo.InvariantCulture, $"{100.0 * ranks.Count(counts) / ranks.Length:0.0} %");

    private static string Count(int count) => count.ToString(CultureInfo.InvariantCulture);
}
