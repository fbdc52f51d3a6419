using System.Collections.Immutable;
using Consort.Engine.Design;

namespace Consort.Engine.Planning;

/// <summary>How one signal is brought to several inputs by multiples.</summary>
/// <remarks>
/// A multiple takes its own input and gives as many outputs as it has ways. Joined in any tree, multiples of w1, w2, ...
/// ways reach 1 + (w1 - 1) + (w2 - 1) + ... inputs, since each but the first takes one output of another; so the least
/// number is the least that covers inputs - 1. Cords are then one from the source, one to each input, and one between
/// each two multiples: inputs + multiples. The tests prove both by trying all ways on small cases.
/// </remarks>
public static class Splitting
{
    /// <summary>The fewest multiples that reach so many inputs; of equally few the narrowest, then the cheapest. Empty for
    /// one input; null when the multiples at hand cannot.</summary>
    public static ImmutableArray<StockMultiple>? Fewest(int inputs, ImmutableArray<StockMultiple> kinds)
    {
        int needed = Math.Max(0, inputs - 1);
        ((int, double, double) Cost, ImmutableList<StockMultiple> Chosen)?[] best = new ((int, double, double), ImmutableList<StockMultiple>)?[needed + 1];
        best[0] = ((0, 0, 0), []);
        for (int covered = 1; covered <= needed; covered++)
            foreach (StockMultiple kind in kinds.Where(kind => kind.Ways > 1))
                if (best[Math.Max(0, covered - (kind.Ways - 1))] is { } before
                    && With(before.Cost, kind) is var cost
                    && (best[covered] is not { } known || cost.CompareTo(known.Cost) < 0))
                    best[covered] = (cost, before.Chosen.Add(kind));
        return best[needed] is { } found ? [.. found.Chosen.OrderByDescending(kind => kind.Ways)] : null;
    }

    /// <summary>Cords from one source to so many inputs through so many multiples.</summary>
    public static int Cords(int inputs, int multiples) => inputs == 0 ? 0 : inputs + multiples;

    private static (int Count, double Width, double Price) With((int Count, double Width, double Price) cost, StockMultiple kind) =>
        (cost.Count + 1, cost.Width + (kind.Width / kind.Sections), cost.Price + ((kind.Price ?? 0) / kind.Sections));
}
