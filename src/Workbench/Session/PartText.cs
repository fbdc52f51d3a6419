using System.Collections.Frozen;
using System.Collections.Immutable;
using System.Globalization;
using Consort.Engine.Design;

namespace Consort.Workbench.Session;

/// <summary>Writes a module's text with parts more or fewer, everything else as it was.</summary>
public static class PartText
{
    // Words of each kind's terminals, and of lists of them.
    private static readonly FrozenDictionary<string, FrozenSet<string>> Terminals = PartKinds.All.ToFrozenDictionary(
        kind => kind.Word,
        kind => kind.Terminals.Select(terminal => terminal.List ?? terminal.Word).Append(kind.FreeList ?? "").ToFrozenSet());

    /// <summary>The text with one part more, on a line after another: like that one but for some entries.</summary>
    /// <param name="source">The module's text.</param>
    /// <param name="like">The other's designator.</param>
    /// <param name="name">Its own.</param>
    /// <param name="entries">By word: its value, the nets that it joins, where they are others.</param>
    /// <returns>Null where the text cannot be read, has no such part to go by, or has one of that name.</returns>
    public static string? More(SourceText source, string like, string name, IReadOnlyDictionary<string, string> entries)
    {
        if (Circuit(source) is not { } circuit || circuit.Find(name) is not null || circuit.Find(like) is not { Value: YamlMap part } model)
            return null;
        YamlEdit edit = new(source);
        edit.AddAfter(circuit, model, name, part with { Entries = [.. part.Entries.Select(entry => entries.TryGetValue(entry.Key, out string? text) ? entry with { Value = Written(entry.Value, text) } : entry)] });
        return edit.Result();
    }

    /// <summary>The text without a part; null where it has none of that name, or no other.</summary>
    public static string? Without(SourceText source, string name)
    {
        if (Circuit(source) is not { Entries.Length: > 1 } circuit || circuit.Find(name) is not { } entry)
            return null;
        YamlEdit edit = new(source);
        edit.Remove(circuit, entry);
        return edit.Result();
    }

    /// <summary>A designator that no part has: the letters of another's, and the number after the highest with them.</summary>
    public static string NextName(IEnumerable<string> names, string like)
    {
        string letters = Letters(like);
        int highest = names.Where(name => Letters(name) == letters).Select(name => Number(name[letters.Length..])).DefaultIfEmpty(0).Max();
        return string.Create(CultureInfo.InvariantCulture, $"{letters}{highest + 1}");
    }

    /// <summary>What of a part's entries is asked for one like it: its value, and the terminals that join one net each.</summary>
    public static ImmutableArray<(string Word, string Text)> Asked(YamlMap part) =>
        part is not { Entries: [{ Value: YamlText } kind, ..] }
            ? []
            : [(kind.Key, ((YamlText)kind.Value).Value), .. Joints(part).Select(word => (word, ((YamlText)part.Find(word)!.Value).Value))];

    /// <summary>Terminals of a part that join one net each, by their words, as they are written.</summary>
    public static IEnumerable<string> Joints(YamlMap part) =>
        from entry in part.Entries
        where entry.Value is YamlText && IsTerminal(part, entry.Key)
        select entry.Key;

    /// <summary>Every net that parts of a module join, in order.</summary>
    public static ImmutableArray<string> Nets(YamlMap circuit) =>
        [.. circuit.Entries.Select(entry => entry.Value).OfType<YamlMap>().SelectMany(Joined).Distinct().Order(StringComparer.OrdinalIgnoreCase)];

    /// <summary>A module's parts; null where the text cannot be read.</summary>
    public static YamlMap? Circuit(SourceText source) => TextTrees.Of(source)?.Find("circuit")?.Value as YamlMap;

    private static IEnumerable<string> Joined(YamlMap part) =>
        from entry in part.Entries
        where IsTerminal(part, entry.Key)
        from text in entry.Value switch { YamlText one => [one], YamlList list => list.Items.OfType<YamlText>(), _ => [] }
        select text.Value;

    private static bool IsTerminal(YamlMap part, string word) =>
        part.Entries is [var first, ..] && Terminals.TryGetValue(first.Key, out FrozenSet<string>? words) && words.Contains(word);

    private static YamlNode Written(YamlNode node, string text) => node is YamlText old ? old with { Value = text } : node;

    private static string Letters(string name) => new([.. name.TakeWhile(char.IsAsciiLetter)]);

    private static int Number(string rest) => int.TryParse(new string([.. rest.TakeWhile(char.IsAsciiDigit)]), NumberStyles.None, CultureInfo.InvariantCulture, out int number) ? number : 0;
}
