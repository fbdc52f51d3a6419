using System.Collections.Immutable;
using System.Text.Encodings.Web;
using System.Text.Json;
using System.Text.Json.Nodes;

namespace Consort.Engine.Design.Schema;

/// <summary>The JSON Schema (draft 7) of each kind of design file, for completion and checks in any editor. It is looser
/// than the reader: it knows words, shapes and units, not names, ranges or what fits together.</summary>
/// <param name="Word">circuit, module, voice or stock.</param>
/// <param name="Text">The schema as JSON, ending in a line feed.</param>
public sealed record DesignSchema(string Word, string Text)
{
    private static readonly JsonSerializerOptions Style = new()
    {
        WriteIndented = true,
        NewLine = "\n",
        Encoder = JavaScriptEncoder.UnsafeRelaxedJsonEscaping, // µ and Ω stay readable; the file is never put into HTML
    };

    /// <summary>All four.</summary>
    public static ImmutableArray<DesignSchema> All { get; } =
    [
        Of("circuit", "A circuit by itself: circuit.yaml", FileShape.Circuit()),
        Of("module", "A module: modules/NAME.yaml", FileShape.Module()),
        Of("voice", "A voice: voice.yaml", FileShape.Voice()),
        Of("stock", "The parts on the shelf: stock.yaml", FileShape.Stock()),
    ];

    /// <summary>The schema of that word, or null.</summary>
    public static DesignSchema? Find(string word) => All.FirstOrDefault(schema => schema.Word == word);

    private static DesignSchema Of(string word, string title, JsonObject root)
    {
        JsonObject schema = new()
        {
            ["$schema"] = "http://json-schema.org/draft-07/schema#",
            ["title"] = title,
        };
        foreach ((string key, JsonNode? value) in root)
            schema[key] = value?.DeepClone();
        JsonObject definitions = Definitions(root);
        if (definitions.Count > 0)
            schema["definitions"] = definitions;
        return new(word, schema.ToJsonString(Style) + "\n");
    }

    // Only what the file's shape reaches, in the order in which it is reached.
    private static JsonObject Definitions(JsonObject root)
    {
        JsonObject found = [];
        Queue<JsonNode> open = new([root]);
        while (open.TryDequeue(out JsonNode? shape))
            foreach (string name in References(shape))
                if (!found.ContainsKey(name))
                {
                    JsonObject definition = FileShape.Definition(name);
                    found[name] = definition;
                    open.Enqueue(definition);
                }
        return found;
    }

    private static IEnumerable<string> References(JsonNode? node) =>
        node switch
        {
            JsonObject map => map.SelectMany(pair =>
                pair.Key == "$ref" ? [pair.Value!.GetValue<string>()["#/definitions/".Length..]] : References(pair.Value)
            ),
            JsonArray list => list.SelectMany(References),
            _ => [],
        };
}
