using System.Collections.Immutable;
using System.Text.RegularExpressions;
using Consort.Engine.Design;

namespace Consort.Engine.Orders;

/// <summary>One thing to buy and fit: a part, or several of a circuit's parts that share a package.</summary>
/// <param name="Name">Designator of the package: U1 for U1A and U1B.</param>
/// <param name="Sort">Its sort.</param>
/// <param name="Used">Sections that the circuit uses.</param>
/// <param name="Sections">Sections that the package holds.</param>
/// <param name="Package">Of the parts library; null when that does not say.</param>
internal sealed record Piece(string Name, PartSort Sort, int Used, int Sections, string? Package);

/// <summary>From a circuit's parts to the pieces that one buys: two op amps in one package, two transistors in one matched
/// pair, the members of a resistor array.</summary>
internal static partial class Pieces
{
    /// <summary>All pieces of a module, in the order of its file.</summary>
    public static ImmutableArray<Piece> Of(Module module, PartsLibrary library) =>
        [.. module.Circuit.Where(IsBought).GroupBy(Package).Select(group => One(group.Key.Name, [.. group], library))];

    // Transistors of a pair come with the pair; sources and laws stand for what is outside, and are bought nowhere.
    private static bool IsBought(Part part) => !part.Texts.ContainsKey("pair") && StockReader.CanBeStocked(part.Kind);

    private static (string Name, string Kind, string Model) Package(Part part)
    {
        string model = part.Texts.GetValueOrDefault("model") ?? "";
        if (part.Texts.GetValueOrDefault("array") is { Length: > 0 } array)
            return (array, part.Kind.Word, model);
        Match lettered = Lettered().Match(part.Name);
        return (lettered.Success && part.Kind.Main == MainValue.Model ? lettered.Groups["stem"].Value : part.Name, part.Kind.Word, model);
    }

    private static Piece One(string name, Part[] parts, PartsLibrary library)
    {
        LibraryEntry? model = parts[0].Texts.GetValueOrDefault("model") is { } word ? library.Find(parts[0].Kind, word) : null;
        bool isArray = parts[0].Texts.GetValueOrDefault("array") is { Length: > 0 };
        return new(name, PartSort.Of(parts[0], isArray ? parts.Length : 1), parts.Length,
            isArray ? parts.Length : Math.Max(parts.Length, model?.Sections ?? 1), model?.Package);
    }

    [GeneratedRegex("^(?<stem>.*[0-9])[A-H]$", RegexOptions.NonBacktracking)]
    private static partial Regex Lettered();
}
