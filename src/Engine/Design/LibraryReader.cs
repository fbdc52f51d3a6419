using System.Collections.Immutable;

namespace Consort.Engine.Design;

/// <summary>Reads a parts library: <c>TL072: {kind: op amp, sheet: "...", gain-bandwidth: 3 MHz, ...}</c>.</summary>
internal static class LibraryReader
{
    /// <summary>The entries of a file that can be read; the rest are errors.</summary>
    public static ImmutableArray<LibraryEntry> Read(SourceText source, ErrorList errors) =>
        YamlTree.ReadMap(source, errors) is { } map ? [.. map.Entries.Select(entry => Entry(entry, errors)).OfType<LibraryEntry>()] : [];

    private static LibraryEntry? Entry(YamlEntry entry, ErrorList errors)
    {
        string name = entry.Key;
        if (entry.Value is not YamlMap map || map.Find("kind") is not { Value: YamlText word })
            return Refuse(entry.KeyAt, $"{name} does not say its kind", $"write '{name}: {{kind: op amp, sheet: ..., ...}}'", errors);
        if (PartKinds.Find(word.Value) is not { Main: MainValue.Model } kind)
            return Refuse(word.At, $"{name}: {ErrorList.Quote(word.Value)} is no kind whose parts are named by model",
                NearName.Mend(word.Value, [.. PartKinds.All.Where(k => k.Main == MainValue.Model).Select(k => k.Word)]), errors);
        if (name == PartsLibrary.Ideal)
            return Refuse(entry.KeyAt, "'ideal' is not free for a model's name", "choose another name", errors);
        return Values(name, kind, map, errors);
    }

    private static LibraryEntry? Values(string name, PartKind kind, YamlMap map, ErrorList errors)
    {
        int before = errors.Count;
        MapReader reader = new(map, name, errors);
        reader.Take("kind");
        string? sheet = reader.Text("sheet");
        if (sheet is null && errors.Count == before)
            errors.Add(ErrorCodes.NoSheet, map.At, $"{name} names no data sheet", "add 'sheet: maker, document, revision'");
        string? polarity = kind.Word == "matched pair" ? Polarity(reader) : null;
        ParameterReader values = new(name, kind, errors);
        ImmutableDictionary<string, double>.Builder numbers = ImmutableDictionary.CreateBuilder<string, double>();
        foreach (ParameterSpec spec in Parameters(kind, polarity))
            if (reader.Take(spec.Word) is { } entry && values.Number(spec, entry) is { } number)
                numbers[spec.Word] = number;
        ImmutableDictionary<string, string>.Builder texts = ImmutableDictionary.CreateBuilder<string, string>();
        foreach (TextSpec spec in kind.Texts)
            if (reader.Take(spec.Word) is { } entry && values.Word(spec, entry) is { } text)
                texts[spec.Word] = text;
        string? package = reader.Text("package");
        int sections = (int)reader.InRange("sections", Quantities.Dimension.Ratio, 1, 1, 64, whole: true);
        reader.RefuseTheRest();
        return errors.Count > before ? null
            : new(name, kind, sheet!, polarity, numbers.ToImmutable(), texts.ToImmutable(), map.At) { Package = package, Sections = sections };
    }

    private static string Polarity(MapReader reader)
    {
        reader.Need("polarity", "polarity: npn");
        return reader.Word("polarity", "npn", "pnp") ?? "npn"; // after an error, to read on
    }

    private static IEnumerable<ParameterSpec> Parameters(PartKind kind, string? polarity) =>
        polarity is null ? kind.Parameters : kind.Parameters.Concat(PartKinds.Find(polarity)!.Parameters);

    private static LibraryEntry? Refuse(SourceSpan at, string what, string mend, ErrorList errors)
    {
        errors.Add(ErrorCodes.NotALibraryEntry, at, what, mend);
        return null;
    }
}
