using System.Collections.Immutable;

namespace Consort.Engine.Planning;

/// <summary>Shares oscillators out between two leads.</summary>
internal static class Groups
{
    private const int MostTried = 12; // 2^11 ways; with more oscillators only the even halves are taken

    /// <summary>Of all ways to make two groups, each led by its first, the one with the least misfit; of equal ones the
    /// most even, then the one that keeps the order.</summary>
    /// <returns>By oscillator: its lead.</returns>
    public static ImmutableArray<int> Best(int count, Func<ImmutableArray<int>, int> misfit)
    {
        ImmutableArray<int> halves = [.. Enumerable.Range(0, count).Select(i => i < (count + 1) / 2 ? 0 : (count + 1) / 2)];
        if (count > MostTried)
            return halves;
        return All(count).OrderBy(misfit).ThenBy(Unevenness).ThenBy(Breaks).First();
    }

    // The first stands in the first group; every other set of the rest makes the second one.
    private static IEnumerable<ImmutableArray<int>> All(int count)
    {
        for (int second = 1; second < 1 << (count - 1); second++)
        {
            int chosen = second << 1, lead = int.TrailingZeroCount(chosen);
            yield return [.. Enumerable.Range(0, count).Select(i => (chosen >> i & 1) == 1 ? lead : 0)];
        }
    }

    private static int Unevenness(ImmutableArray<int> leadOf) => Math.Abs((2 * leadOf.Count(lead => lead == 0)) - leadOf.Length);

    private static int Breaks(ImmutableArray<int> leadOf) => Enumerable.Range(1, leadOf.Length - 1).Count(i => leadOf[i] != leadOf[i - 1]);
}
