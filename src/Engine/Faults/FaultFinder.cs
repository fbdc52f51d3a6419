using System.Collections.Immutable;

namespace Consort.Engine.Faults;

/// <summary>
/// Weighs every fault of a book against readings. What parts' spread does to the figures together is taken from builds (a covariance),
/// beside the meters' own errors and a share of what the fault moves a figure. Readings are made independent with it; each then counts by
/// Student's law, so that a clip that slipped does not decide alone. The leading faults are solved again in builds of their own.
/// </summary>
/// <param name="book">What faults do.</param>
/// <param name="threads">How many may work; the result does not depend on it.</param>
/// <param name="cancel">Ends it.</param>
public sealed class FaultFinder(FaultBook book, int threads = 1, CancellationToken cancel = default)
{
    private const int Leading = 16; // those that are solved again
    private const int Most = 8;
    private const double Same = 2; // deviations: less, and one in six is taken for the other

    /// <summary>Finds.</summary>
    public Diagnosis Find(IReadOnlyList<FigureReading> readings)
    {
        FigureSpread spread = new(book, [.. readings.Select(reading => reading.Figure)]);
        double[] read = [.. readings.Select(reading => reading.Value)];
        (double none, double furthest) = spread.Fit(read, book.Sound);
        FaultEntry[] leading = [.. Ranked(book.Entries, book.Foretold, spread, read).Take(Leading).Select(one => one.Entry!)];
        book.Draw(leading, threads, cancel);
        Weighed[] ranked = Ranked(leading, book.Drawn, spread, read);
        // A unit on this bench is as likely sound as faulty, and no fault likelier than another.
        double least = none + Math.Log(Math.Max(1, book.Count));
        double most = Math.Max(least, ranked.Max(one => one.Fit)), sum = Math.Exp(least - most) + ranked.Sum(one => Math.Exp(one.Fit - most));
        Weighed[] likely = [.. ranked.Take(Most).Select(one => one with { Weight = Math.Exp(one.Fit - most) / sum })];
        ImmutableArray<NextFigure> next = Next([new(null, book.Sound, none, Math.Exp(least - most) / sum), .. likely], spread);
        return ranked[0].Fit < least
            ? new(true, furthest, [], next)
            : new(false, furthest, [.. likely.Select(one => new Explanation(one.Entry!.Fault, one.Weight, Alike(one, ranked, spread), Foretold(one.Forecast, spread)))], next);
    }

    /// <summary>True when readings of those figures would tell a fault from a sound unit.</summary>
    internal bool Shows(FaultEntry entry, FigureSpread spread) => spread.Apart(book.Foretold(entry), book.Sound) > 2 * Same;

    /// <summary>True when readings of those figures cannot tell two faults apart.</summary>
    internal bool AreAlike(FaultEntry one, FaultEntry other, FigureSpread spread) => one == other || spread.Apart(book.Drawn(one), book.Drawn(other)) < Same;

    private static Weighed[] Ranked(IEnumerable<FaultEntry> entries, Func<FaultEntry, Forecast> foretold, FigureSpread spread, double[] read) =>
        [
            .. entries
                .Select(entry => (entry, forecast: foretold(entry)))
                .Select(pair => new Weighed(pair.entry, pair.forecast, spread.Fit(read, pair.forecast).Fit))
                .OrderByDescending(one => one.Fit)
                .ThenBy(one => one.Entry!.Fault.Words, StringComparer.Ordinal),
        ];

    private ImmutableArray<string> Alike(Weighed one, Weighed[] ranked, FigureSpread spread) =>
        [.. ranked.Where(other => other.Entry != one.Entry && AreAlike(one.Entry!, other.Entry!, spread)).Select(other => other.Entry!.Fault.Words)];

    private ImmutableArray<FigureReading> Foretold(Forecast forecast, FigureSpread spread) =>
        [
            .. Unread(spread)
                .Where(i => double.IsFinite(forecast.Mean[i]))
                .OrderByDescending(i => Math.Abs(forecast.Mean[i] - book.Sound.Mean[i]) / spread.Width(i, book.Sound))
                .DistinctBy(i => book.Figures[i].Place)
                .Take(3)
                .Select(i => new FigureReading(i, forecast.Mean[i])),
        ];

    // Half the logarithm of one more than the variance between explanations over a reading's own: what a normal channel carries.
    private ImmutableArray<NextFigure> Next(Weighed[] likely, FigureSpread spread)
    {
        double Bits(int i)
        {
            Weighed[] known = [.. likely.Where(one => double.IsFinite(one.Forecast.Mean[i]))];
            double all = known.Sum(one => one.Weight), mean = known.Sum(one => one.Weight * one.Forecast.Mean[i]) / all;
            double between = known.Sum(one => one.Weight * Math.Pow(one.Forecast.Mean[i] - mean, 2)) / all;
            double within = known.Sum(one => one.Weight * Math.Pow(spread.Width(i, one.Forecast), 2)) / all;
            return all > 0 ? 0.5 * Math.Log2(1 + between / within) : 0;
        }
        return [.. Unread(spread).Select(i => new NextFigure(i, Bits(i))).OrderByDescending(next => next.Bits).DistinctBy(next => book.Figures[next.Figure].Place).Take(3)];
    }

    private IEnumerable<int> Unread(FigureSpread spread) => Enumerable.Range(0, book.Figures.Count).Except(spread.Read);

    // Without an entry: a sound unit.
    private sealed record Weighed(FaultEntry? Entry, Forecast Forecast, double Fit, double Weight = 0);
}
