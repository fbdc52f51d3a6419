using System.Collections.Immutable;

namespace Consort.Tests.Planning;

/// <summary>All ways to patch sources to inputs with passive multiples, tried one by one: the fewest multiples, and with
/// so many the fewest cords. It knows nothing of formulas, only that an output feeds one cord.</summary>
internal static class ExhaustiveWiring
{
    /// <param name="inputs">By signal: how many inputs are to have it.</param>
    /// <param name="ways">By kind of multiple: its outputs.</param>
    /// <param name="most">Multiples at most; more are not tried.</param>
    /// <returns>Null when it cannot be done with so many.</returns>
    public static (int Multiples, int Cords)? Fewest(ImmutableArray<int> inputs, ImmutableArray<int> ways, int most)
    {
        if (inputs.IsEmpty)
            return (0, 0);
        HashSet<string> states = [State([.. inputs.Select(n => (Open: 1, Left: n))])];
        Dictionary<string, int> cords = new() { [states.First()] = 0 };
        for (int multiples = 0; multiples <= most; multiples++)
        {
            Served(states, cords);
            int[] done = [.. states.Where(IsDone).Select(state => cords[state])];
            if (done.Length > 0)
                return (multiples, done.Min());
            (states, cords) = WithOneMore(states, cords, ways);
        }
        return null;
    }

    // Every open output may be plugged into an input of its signal that has nothing yet.
    private static void Served(HashSet<string> states, Dictionary<string, int> cords)
    {
        Queue<string> open = new(states);
        while (open.TryDequeue(out string? state))
            foreach ((string next, int cord) in Moves(state, (open, left) => open > 0 && left > 0 ? (open - 1, left - 1) : null))
                if (!cords.TryGetValue(next, out int known) || cords[state] + cord < known)
                {
                    cords[next] = cords[state] + cord;
                    states.Add(next);
                    open.Enqueue(next);
                }
    }

    // Every open output may be plugged into a further multiple of any kind.
    private static (HashSet<string>, Dictionary<string, int>) WithOneMore(HashSet<string> states, Dictionary<string, int> cords, ImmutableArray<int> ways)
    {
        HashSet<string> found = [];
        Dictionary<string, int> cost = [];
        foreach (string state in states)
            foreach (int outputs in ways)
                foreach ((string next, int cord) in Moves(state, (open, left) => open > 0 ? (open - 1 + outputs, left) : null))
                    if (!cost.TryGetValue(next, out int known) || cords[state] + cord < known)
                    {
                        cost[next] = cords[state] + cord;
                        found.Add(next);
                    }
        return (found, cost);
    }

    private static IEnumerable<(string State, int Cords)> Moves(string state, Func<int, int, (int, int)?> move)
    {
        (int Open, int Left)[] signals = [.. state.Split(';').Select(pair => pair.Split(',')).Select(pair => (int.Parse(pair[0]), int.Parse(pair[1])))];
        for (int i = 0; i < signals.Length; i++)
            if (move(signals[i].Open, signals[i].Left) is { } moved)
                yield return (State([.. signals.Select((signal, k) => k == i ? moved : signal)]), 1);
    }

    private static bool IsDone(string state) => state.Split(';').All(pair => pair.EndsWith(",0", StringComparison.Ordinal));

    private static string State((int Open, int Left)[] signals) => string.Join(';', signals.Select(signal => $"{signal.Open},{signal.Left}"));
}
