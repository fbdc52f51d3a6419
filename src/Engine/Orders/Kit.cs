using System.Collections.Immutable;

namespace Consort.Engine.Orders;

/// <summary>Packs a kit: one bag for each build step of each module, one for what belongs to the voice as a whole.</summary>
internal static class Kit
{
    /// <summary>The bags, numbered by module and step.</summary>
    public static ImmutableArray<KitBag> Pack(ImmutableArray<OrderLine> lines)
    {
        var bags = lines
            .SelectMany(line => line.Places.Select(place => (line, place)))
            .GroupBy(pair => (pair.place.Module, pair.line.Step))
            .ToArray();
        string[] modules = [.. bags.Select(bag => bag.Key.Module).Distinct().OrderBy(name => name == "voice" ? 1 : 0)];
        return
        [
            .. bags
                .OrderBy(bag => Array.IndexOf(modules, bag.Key.Module))
                .ThenBy(bag => bag.Key.Step)
                .Select((bag, i) => new KitBag(
                    i + 1,
                    bag.Key.Module,
                    bag.First().place.Copies,
                    bag.Key.Step,
                    [.. bag.Select(pair => new BagItem(pair.place.Count, Called(pair.line), pair.line.Package, pair.place.Designators))]
                )),
        ];
    }

    private static string Called(OrderLine line) => line.Kind is "extra" ? line.What : $"{line.Kind} {line.What}".TrimEnd();
}
