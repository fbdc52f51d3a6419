using System.Collections.Immutable;

namespace Consort.Engine.Faults;

/// <summary>
/// Weighs every fault of a book against readings. What parts' spread does to the figures together is taken from sound builds (a
/// covariance), beside the meters' own errors and a share of what the fault moves a figure. Readings are made independent with it; each
/// then counts by Student's law, so that a clip that slipped does not decide alone.
/// </summary>
public sealed class FaultFinder
{
    private const double Clear = 3; // nepers by which an explanation must beat none
    private const double Same = 2; // deviations: less, and one in six is taken for the other
    private const int Most = 8;

    private readonly FaultBook book;

    /// <summary>With the faults of a book.</summary>
    public FaultFinder(FaultBook book) => this.book = book;

    /// <summary>Finds.</summary>
    public Diagnosis Find(IReadOnlyList<FigureReading> readings)
    {
        FigureSpread spread = new(book, [.. readings.Select(reading => reading.Figure)]);
        double[] read = [.. readings.Select(reading => reading.Value)];
        (double none, double furthest) = spread.Fit(read, null);
        Weighed[] ranked = [.. book.Entries.Select(entry => new Weighed(entry, spread.Fit(read, entry).Fit)).OrderByDescending(one => one.Fit).ThenBy(one => one.Entry.Fault.Words, StringComparer.Ordinal)];
        // A unit on this bench is as likely sound as faulty, and no fault likelier than another.
        if (ranked.Length == 0 || ranked[0].Fit - Math.Log(ranked.Length) < none + Clear)
            return new(true, furthest, [], []);
        double sum = ranked.Sum(one => Math.Exp(one.Fit - ranked[0].Fit));
        Weighed[] leading = [.. ranked.Take(Most).Select(one => one with { Weight = Math.Exp(one.Fit - ranked[0].Fit) / sum })];
        return new(false, furthest, [.. leading.Select(one => new Explanation(one.Entry.Fault, one.Weight, Alike(one, ranked, spread), Foretold(one.Entry, spread)))], Next(leading, spread));
    }

    /// <summary>True when readings of those figures would tell a fault from a sound unit.</summary>
    internal static bool Shows(FaultEntry entry, FigureSpread spread) => spread.Apart(entry, null) > 2 * Same;

    /// <summary>True when readings of those figures cannot tell two faults apart.</summary>
    internal static bool AreAlike(FaultEntry one, FaultEntry other, FigureSpread spread) => one == other || spread.Apart(one, other) < Same;

    private static ImmutableArray<string> Alike(Weighed one, Weighed[] ranked, FigureSpread spread) =>
        [.. ranked.Take(4 * Most).Where(other => other.Entry != one.Entry && AreAlike(one.Entry, other.Entry, spread)).Select(other => other.Entry.Fault.Words)];

    private ImmutableArray<FigureReading> Foretold(FaultEntry entry, FigureSpread spread) =>
        [
            .. Unread(spread)
                .Where(i => double.IsFinite(book.Foretold(entry, i)))
                .OrderByDescending(i => Math.Abs(book.Foretold(entry, i) - book.Sound[i]) / spread.Width(i, null))
                .DistinctBy(i => book.Figures[i].Place)
                .Take(3)
                .Select(i => new FigureReading(i, book.Foretold(entry, i))),
        ];

    // Half the logarithm of one more than the variance between explanations over a reading's own: what a normal channel carries.
    private ImmutableArray<NextFigure> Next(Weighed[] leading, FigureSpread spread)
    {
        double Bits(int i)
        {
            Weighed[] known = [.. leading.Where(one => double.IsFinite(book.Foretold(one.Entry, i)))];
            double all = known.Sum(one => one.Weight), mean = known.Sum(one => one.Weight * book.Foretold(one.Entry, i)) / all;
            double between = known.Sum(one => one.Weight * Math.Pow(book.Foretold(one.Entry, i) - mean, 2)) / all;
            double within = known.Sum(one => one.Weight * Math.Pow(spread.Width(i, one.Entry), 2)) / all;
            return all > 0 ? 0.5 * Math.Log2(1 + between / within) : 0;
        }
        return [.. Unread(spread).Select(i => new NextFigure(i, Bits(i))).OrderByDescending(next => next.Bits).DistinctBy(next => book.Figures[next.Figure].Place).Take(3)];
    }

    private IEnumerable<int> Unread(FigureSpread spread) => Enumerable.Range(0, book.Figures.Count).Except(spread.Read);

    private sealed record Weighed(FaultEntry Entry, double Fit, double Weight = 0);
}
