using System.Collections.Immutable;
using Consort.Engine.Quantities;

namespace Consort.Engine.Design;

/// <summary>
/// Takes the entries of one map by name and reports what is missing, misspelt or of the wrong shape. Ask for every entry
/// that the format knows, then call <see cref="RefuseTheRest"/>.
/// </summary>
/// <param name="map">The map.</param>
/// <param name="who">What it is, for messages: <c>panel</c>, <c>cord 3</c>.</param>
/// <param name="errors">Where mistakes go.</param>
public sealed class MapReader(YamlMap map, string who, ErrorList errors)
{
    private readonly List<string> known = [];

    /// <summary>The map.</summary>
    public YamlMap Map => map;

    /// <summary>What the map is, for messages.</summary>
    public string Who => who;

    /// <summary>Where mistakes go.</summary>
    public ErrorList Errors => errors;

    /// <summary>Where the map stands.</summary>
    public SourceSpan At => map.At;

    /// <summary>The entry, or null when it is not there. The name counts as known from now on.</summary>
    public YamlEntry? Take(string key)
    {
        known.Add(key);
        return map.Find(key);
    }

    /// <summary>The entry; null, with an error, when it is not there.</summary>
    /// <param name="example">How to write it, as <c>width: 20 HP</c>.</param>
    public YamlEntry? Need(string key, string example)
    {
        YamlEntry? entry = Take(key);
        if (entry is null)
            errors.Add(ErrorCodes.MissingKey, map.At, $"{who}: '{key}' is missing", $"add '{example}'");
        return entry;
    }

    /// <summary>An entry's text, or null.</summary>
    public string? Text(string key) => Take(key) is { } entry ? TextOf(entry)?.Value : null;

    /// <summary>An entry's text; null, with an error, when it is missing.</summary>
    public string? NeedText(string key, string example) => Need(key, example) is { } entry ? TextOf(entry)?.Value : null;

    /// <summary>An entry's quantity in SI units, or null.</summary>
    /// <param name="bare">True where a number without unit is enough.</param>
    public double? Number(string key, Dimension dimension, bool bare = false) =>
        Take(key) is { } entry ? NumberOf(entry, dimension, bare) : null;

    /// <summary>An entry's quantity; null, with an error, when it is missing.</summary>
    public double? NeedNumber(string key, Dimension dimension, string example, bool bare = false) =>
        Need(key, example) is { } entry ? NumberOf(entry, dimension, bare) : null;

    /// <summary>One of a few words, or null.</summary>
    public string? Word(string key, params string[] words) =>
        Take(key) is { } entry && TextOf(entry) is { } text ? WordOf(entry.Key, text, words) : null;

    /// <summary>An entry that is a map of its own, or null.</summary>
    public MapReader? Inner(string key) => Take(key) is { } entry && MapOf(entry) is { } inner ? new(inner, key, errors) : null;

    /// <summary>An entry's list; empty when it is not there.</summary>
    public ImmutableArray<YamlNode> Items(string key)
    {
        if (Take(key) is not { } entry)
            return [];
        if (entry.Value is YamlList list)
            return list.Items;
        Shape(entry, "a list", $"write '{key}: [..., ...]' or one '- ' line each");
        return [];
    }

    /// <summary>The maps of an entry's list, each called by one's name and its number; what is no map is an error.</summary>
    /// <param name="key">The entry.</param>
    /// <param name="one">What one of them is called.</param>
    /// <param name="example">One as it should be written.</param>
    public IEnumerable<MapReader> Maps(string key, string one, string example)
    {
        int number = 0;
        foreach (YamlNode item in Items(key))
        {
            number++;
            if (item is YamlMap map)
                yield return new(map, $"{one} {number}", errors);
            else
                errors.Add(ErrorCodes.WrongShape, item.At, $"{one} {number} is {item.Shape}, not a map", $"write '- {example}'");
        }
    }

    /// <summary>The entry's value as a text; null, with an error, when it is none.</summary>
    public YamlText? TextOf(YamlEntry entry)
    {
        if (entry.Value is YamlText { IsNothing: false } text)
            return text;
        Shape(entry, "a text", $"write '{entry.Key}: ...'");
        return null;
    }

    /// <summary>The entry's value as a map; null, with an error, when it is none.</summary>
    public YamlMap? MapOf(YamlEntry entry)
    {
        if (entry.Value is YamlMap inner)
            return inner;
        Shape(entry, "a map", $"write '{entry.Key}: {{name: value, ...}}'");
        return null;
    }

    /// <summary>The entry's value as a quantity; null, with an error, when it is none.</summary>
    public double? NumberOf(YamlEntry entry, Dimension dimension, bool bare = false) =>
        TextOf(entry) is { } text ? errors.Quantity(text, dimension, $"{who}: {entry.Key}", bare) : null;

    /// <summary>Reports every entry that nobody asked for.</summary>
    public void RefuseTheRest()
    {
        foreach (YamlEntry entry in map.Entries)
            if (!known.Contains(entry.Key) && !IsGlued(entry))
                errors.Add(ErrorCodes.UnknownKey, entry.KeyAt, $"{who}: {ErrorList.Quote(entry.Key)} is not known here",
                    NearName.Mend(entry.Key, known));
    }

    private string? WordOf(string key, YamlText text, string[] words)
    {
        if (words.Contains(text.Value))
            return text.Value;
        errors.Add(ErrorCodes.UnknownWord, text.At, $"{who}: {key} cannot be {ErrorList.Quote(text.Value)}",
            NearName.Of(text.Value, words) is { } near ? $"did you mean '{near}'?" : $"one of: {string.Join(", ", words)}");
        return null;
    }

    // {resistor:100k} is, for YAML, a name 'resistor:100k' without a value.
    private bool IsGlued(YamlEntry entry)
    {
        if (entry.Value is not YamlText { IsNothing: true } || !entry.Key.Contains(':', StringComparison.Ordinal))
            return false;
        errors.Add(ErrorCodes.NoValue, entry.KeyAt, $"{who}: {ErrorList.Quote(entry.Key)} is a name without a value",
            $"put a space after the colon: {entry.Key.Replace(":", ": ")}");
        return true;
    }

    private void Shape(YamlEntry entry, string wanted, string mend)
    {
        if (entry.Value is not YamlText { IsNothing: true })
            errors.Add(ErrorCodes.WrongShape, entry.Value.At, $"{who}: '{entry.Key}' is {entry.Value.Shape}, not {wanted}", mend);
        else if (!IsGlued(entry))
            errors.Add(ErrorCodes.NoValue, entry.KeyAt, $"{who}: '{entry.Key}' has no value", mend);
    }
}
