namespace Consort.Engine.Pitch.Locking;

/// <summary>
/// How near the ends of a lock range are known. The reduced model keeps the first order of what couples; where one pulls the
/// other by many cents the ends move outwards, and where edges meet at a low note they may be shorter than the cells of a turn
/// that are compared. The figures are those of the ranges that were held against the whole circuit
/// with both in motion (docs/locking.md); nothing is said of what is wider.
/// </summary>
public static class KnownEnds
{
    private const double WidestUnison = 65; // cents
    private const double WidestExact = 9; // of another ratio
    private const double WidestRatio = 35;

    private const double Lowest = 100; // Hz: below, a range that edges make
    private const double ByEdges = 1; // cents: and no wider one

    private const double Near = 0.1;
    private const double Wide = 0.2;
    private const double Edged = 0.25;

    /// <summary>By which share of half the range's width an end may lie elsewhere; null where nothing as wide was compared.</summary>
    public static double? Within(PairLock pair) =>
        IsByShortEdges(pair) ? Edged
        : pair.Ratio == Ratio.Unison ? (pair.Width <= WidestUnison ? Near : null)
        : pair.Width <= WidestExact ? Near
        : pair.Width <= WidestRatio ? Wide
        : null;

    private static bool IsByShortEdges(PairLock pair) => pair.Hertz < Lowest && pair.Width < ByEdges;

    /// <summary>What is to be said of a sheet's wide ranges; empty when there are none.</summary>
    public static IEnumerable<string> Words(LockSheet sheet)
    {
        if (sheet.Pairs.Any(IsByShortEdges))
            yield return $"Ranges below {Lowest:0} Hz that are narrower than {ByEdges:0} cent may be up to {100 * Edged:0} % wider: edges that meet there may last no longer than the steps of phase that are compared.";
        if (sheet.Pairs.Any(pair => Within(pair) == Wide))
            yield return $"Ends of ranges other than 1:1 that are {WidestExact:0} to {WidestRatio:0} cents wide may lie up to {100 * Wide:0} % of half their width farther out: so far they did where such a range was held against the whole circuit.";
        if (sheet.Pairs.Any(pair => Within(pair) is null))
            yield return $"Ranges wider than {WidestUnison:0} cents, or {WidestRatio:0} cents at another ratio than 1:1, were not held against a whole circuit: take their ends for no more than the order of size.";
    }
}
