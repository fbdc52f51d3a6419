using System.Collections.Immutable;
using Consort.Engine.Pitch.Builds;

namespace Consort.Engine.Pitch.Grades;

/// <summary>
/// Looks for the cheapest grades that reach a yield, and for the best yield that a sum buys. Few places are enumerated in the order
/// of their cost, so that the first that reaches the yield is the cheapest. Many are climbed: dearer grades where an
/// estimate says that money buys most, then cheaper ones wherever the yield stands it. Every step is judged by real builds,
/// all choices by the same ones.
/// </summary>
/// <param name="places">Where there is a choice.</param>
/// <param name="yieldOf">What builds do with a grade for each place.</param>
/// <param name="weights">Share of what misses that each place brings by its tolerance and by its drift, at the grades that stand
/// now.</param>
public sealed class GradeSearch(IReadOnlyList<GradePlace> places, Func<int[], YieldInterval> yieldOf, IReadOnlyList<GradeWeight> weights)
{
    private const int MostEnumerated = 1024;
    private const double Least = 1e-6; // share that a place is taken to bring at least

    private readonly Dictionary<string, YieldInterval> known = [];

    /// <summary>Choices whose yield was looked at.</summary>
    public int Looked => known.Count;

    /// <summary>True when every choice was within reach, so that what is found is the true optimum for these builds.</summary>
    public bool IsExhaustive { get; private set; }

    /// <summary>The grades that stand now.</summary>
    public int[] Current => [.. places.Select(place => place.Current)];

    /// <summary>What a choice costs, as far as there is a choice.</summary>
    public double Cost(IReadOnlyList<int> choice) => places.Select((place, i) => place.Cost(choice[i])).Sum();

    /// <summary>What builds do with a choice.</summary>
    public YieldInterval Yield(int[] choice)
    {
        string key = string.Join(',', choice);
        if (!known.TryGetValue(key, out YieldInterval found))
            known[key] = found = yieldOf(choice);
        return found;
    }

    /// <summary>The cheapest choice whose yield reaches a share with 95 % certainty; null when none was found.</summary>
    public int[]? Cheapest(double share)
    {
        bool Reaches(int[] choice) => Yield(choice).Low >= share;
        if (places.Aggregate(1.0, (product, place) => product * place.Grades.Length) <= MostEnumerated)
        {
            IsExhaustive = true;
            return All().OrderBy(Cost).FirstOrDefault(Reaches);
        }
        int[] choice = Current;
        while (!Reaches(choice))
        {
            if (Rise(choice, double.MaxValue) is not { } risen)
                return null;
            choice = risen;
        }
        return Lower(choice, Reaches);
    }

    /// <summary>The best yield that a sum buys; null when even the cheapest grades cost more.</summary>
    public int[]? Best(double sum)
    {
        if (places.Aggregate(1.0, (product, place) => product * place.Grades.Length) <= MostEnumerated)
        {
            IsExhaustive = true;
            return All().Where(choice => Cost(choice) <= sum + 1e-9).OrderBy(Cost).MaxBy(choice => Yield(choice).Share);
        }
        int[] choice = [.. places.Select(place => place.Grades.Length - 1)];
        if (Cost(choice) > sum + 1e-9)
            return null;
        while (Rise(choice, sum) is { } risen)
            choice = risen;
        return Yield(choice).Share >= Yield(Current).Share || Cost(Current) > sum + 1e-9 ? choice : Current;
    }

    private IEnumerable<int[]> All()
    {
        IEnumerable<ImmutableArray<int>> all = [[]];
        foreach (GradePlace place in places)
            all = all.SelectMany(start => Enumerable.Range(0, place.Grades.Length).Select(grade => start.Add(grade))).ToArray();
        return all.Select(choice => choice.ToArray());
    }

    // What a place brings at a grade, in the unit of the weights: variances go with the square of the limits.
    private double Brings(int place, int grade)
    {
        (Grade now, Grade then) = (places[place].Grades[places[place].Current], places[place].Grades[grade]);
        double tolerance = Ratio(then.Tolerance, now.Tolerance);
        double drift = Ratio(then.Drift, now.Drift);
        return Math.Max(weights[place].Tolerance, Least) * tolerance * tolerance + Math.Max(weights[place].Drift, Least) * drift * drift;
    }

    private static double Ratio(double then, double now) => now > 0 ? then / now : then > 0 ? 1e3 : 1;

    // The dearer grade that is estimated to take away most for its price; null when nothing is left to take away, or it costs
    // too much.
    private int[]? Rise(int[] choice, double sum)
    {
        double cost = Cost(choice);
        IEnumerable<int[]> moves =
            from place in Enumerable.Range(0, places.Count)
            from grade in Enumerable.Range(0, places[place].Grades.Length)
            let gain = Brings(place, choice[place]) - Brings(place, grade)
            let price = places[place].Cost(grade) - places[place].Cost(choice[place])
            where gain > Least && grade != choice[place] && cost + price <= sum + 1e-9
            orderby gain / Math.Max(price, 1e-6) descending
            select With(choice, place, grade);
        return moves.FirstOrDefault();
    }

    private static int[] With(int[] choice, int place, int grade)
    {
        int[] next = [.. choice];
        next[place] = grade;
        return next;
    }

    // Cheaper grades, those that save most for what they are estimated to bring first, until none is stood any more.
    private int[] Lower(int[] choice, Func<int[], bool> reaches)
    {
        int[] before;
        do
        {
            before = choice;
            (int Place, int Grade)[] moves =
            [
                .. from place in Enumerable.Range(0, places.Count)
                   from grade in Enumerable.Range(0, places[place].Grades.Length)
                   let saved = places[place].Cost(choice[place]) - places[place].Cost(grade)
                   where saved > 0
                   orderby saved / Math.Max(Brings(place, grade) - Brings(place, choice[place]), 1e-9) descending
                   select (place, grade),
            ];
            choice = Together(choice, moves, reaches);
        } while (!choice.AsSpan().SequenceEqual(before));
        return choice;
    }

    // All moves at once where that is stood, else one half after the other.
    private int[] Together(int[] choice, ReadOnlySpan<(int Place, int Grade)> moves, Func<int[], bool> reaches)
    {
        int[] all = choice;
        foreach ((int place, int grade) in moves)
            if (places[place].Cost(grade) < places[place].Cost(all[place]))
                all = With(all, place, grade);
        if (ReferenceEquals(all, choice) || reaches(all))
            return all;
        if (moves.Length == 1)
            return choice;
        int half = moves.Length / 2;
        return Together(Together(choice, moves[..half], reaches), moves[half..], reaches);
    }
}

/// <summary>Shares of a variance that a place brings.</summary>
/// <param name="Tolerance">By its tolerance, 0 to 1.</param>
/// <param name="Drift">By its drift.</param>
public readonly record struct GradeWeight(double Tolerance, double Drift)
{
    /// <summary>Both.</summary>
    public double Sum => Tolerance + Drift;
}
