using System.Collections.Immutable;

namespace Consort.Engine.Planning;

/// <summary>Shares oscillators out between two leads.</summary>
internal static class Groups
{
    private const int MostTried = 12; // 2^11 ways; with more oscillators only the even halves are taken

    /// <summary>Of all ways to make two groups, each led by the one that stands nearest to the voice's pitch, the one with the
    /// least misfit; of equal ones the most even, then the one that keeps the order.</summary>
    /// <param name="stands">By oscillator: how far it stands from the voice's pitch, cents.</param>
    /// <returns>By oscillator: its lead.</returns>
    public static ImmutableArray<int> Best(double[] stands, Func<ImmutableArray<int>, int> misfit)
    {
        int count = stands.Length;
        if (count > MostTried)
            return Led([.. Enumerable.Range(0, count).Select(i => i < (count + 1) / 2)], stands);
        return All(stands).OrderBy(misfit).ThenBy(Unevenness).ThenBy(Breaks).First();
    }

    // The first stands in the first group; every other set of the rest makes the second one.
    private static IEnumerable<ImmutableArray<int>> All(double[] stands)
    {
        for (int second = 1; second < 1 << (stands.Length - 1); second++)
            yield return Led([.. Enumerable.Range(0, stands.Length).Select(i => (second << 1 >> i & 1) == 0)], stands);
    }

    private static ImmutableArray<int> Led(bool[] isFirst, double[] stands) =>
        [.. isFirst.Select(group => Enumerable.Range(0, stands.Length).Where(i => isFirst[i] == group).MinBy(i => stands[i]))];

    private static int Unevenness(ImmutableArray<int> leadOf) => Math.Abs((2 * leadOf.Count(lead => lead == leadOf[0])) - leadOf.Length);

    private static int Breaks(ImmutableArray<int> leadOf) => Enumerable.Range(1, leadOf.Length - 1).Count(i => leadOf[i] != leadOf[i - 1]);
}
