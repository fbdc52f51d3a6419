using System.Text.Json.Nodes;
using Consort.Engine.Quantities;

namespace Consort.Engine.Design.Schema;

/// <summary>The few shapes that a design file is made of, as JSON Schema.</summary>
internal static class Shape
{
    /// <summary>Any text. YAML reads a bare 5 as a number, and a name may be one.</summary>
    public static JsonObject Text(string about) => Described(new() { ["type"] = new JsonArray("string", "number") }, about);

    /// <summary>One of some words.</summary>
    public static JsonObject Word(string about, IEnumerable<string> words) =>
        Described(new() { ["enum"] = new JsonArray([.. words.Select(word => (JsonNode)word)]) }, about);

    /// <summary>A quantity of a dimension.</summary>
    /// <param name="bare">True where a number without its unit is enough.</param>
    public static JsonObject Quantity(Dimension dimension, string about, bool bare = false) =>
        Described(QuantityShape.Reference(dimension, bare), about);

    /// <summary>A list of at least some items.</summary>
    public static JsonObject List(JsonObject item, string about, int least = 1) =>
        Described(new() { ["type"] = "array", ["items"] = item, ["minItems"] = least }, about);

    /// <summary>A list of exactly so many items.</summary>
    public static JsonObject Tuple(JsonObject item, string about, int count)
    {
        JsonObject list = List(item, about, count);
        list["maxItems"] = count;
        return list;
    }

    /// <summary>A map with names of the maker's own choice.</summary>
    public static JsonObject MapOf(JsonObject value, string about) =>
        Described(new() { ["type"] = "object", ["additionalProperties"] = value }, about);

    /// <summary>A map with fixed entries.</summary>
    public static JsonObject Map(string about, params ReadOnlySpan<Entry> entries)
    {
        JsonObject properties = [];
        JsonArray required = [];
        foreach (Entry entry in entries)
        {
            properties[entry.Word] = entry.Value;
            if (entry.Required)
                required.Add((JsonNode)entry.Word);
        }
        JsonObject map = new() { ["type"] = "object", ["properties"] = properties, ["additionalProperties"] = false };
        if (required.Count > 0)
            map["required"] = required;
        return Described(map, about);
    }

    /// <summary>A shape that stands under <c>definitions</c>.</summary>
    public static JsonObject Reference(string name) => new() { ["$ref"] = $"#/definitions/{name}" };

    /// <summary>One of several shapes.</summary>
    public static JsonObject AnyOf(string about, params IEnumerable<JsonObject> shapes) =>
        Described(new() { ["anyOf"] = new JsonArray([.. shapes]) }, about);

    // Beside a $ref other words are ignored in the drafts that editors know, so it is wrapped.
    private static JsonObject Described(JsonObject shape, string about)
    {
        if (about.Length == 0)
            return shape;
        JsonObject described = new() { ["description"] = about };
        if (shape.ContainsKey("$ref"))
        {
            described["allOf"] = new JsonArray(shape);
            return described;
        }
        foreach ((string word, JsonNode? value) in shape.ToArray())
        {
            shape.Remove(word);
            described[word] = value;
        }
        return described;
    }

    /// <summary>One entry of a map with fixed entries.</summary>
    public readonly record struct Entry(string Word, JsonObject Value, bool Required = false);
}
