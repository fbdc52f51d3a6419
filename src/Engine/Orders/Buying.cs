using System.Collections.Immutable;
using Consort.Engine.Design;

namespace Consort.Engine.Orders;

/// <summary>How many to buy, at what price.</summary>
internal static class Buying
{
    /// <summary>The price of one piece when so many are bought; null when none is known.</summary>
    public static decimal? Each(int count, double? price, SaleTerms terms)
    {
        double? found = price;
        foreach (PriceBreak step in terms.Breaks)
            if (count >= step.From)
                found = step.Price;
        return found is { } known ? (decimal)known : null;
    }

    /// <summary>The least costly number that is at least what is missing: whole packs, or the next break's number where
    /// more pieces cost less. Of equal cost the smaller number.</summary>
    public static (int Count, decimal? Cost) Best(int missing, double? price, SaleTerms terms)
    {
        if (missing <= 0)
            return (0, 0);
        IEnumerable<int> counts = terms.Breaks.Select(step => step.From).Where(from => from > missing).Prepend(missing);
        ImmutableArray<(int Count, decimal? Cost)> offers = [.. counts.Select(count => Packs(count, terms)).Select(count => (count, Each(count, price, terms) * count))];
        return offers.OrderBy(offer => offer.Cost ?? decimal.MaxValue).ThenBy(offer => offer.Count).First();
    }

    private static int Packs(int count, SaleTerms terms) => (count + terms.SoldIn - 1) / terms.SoldIn * terms.SoldIn;
}
