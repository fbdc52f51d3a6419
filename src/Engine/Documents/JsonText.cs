using System.Text;
using System.Text.Encodings.Web;
using System.Text.Json;

namespace Consort.Engine.Documents;

/// <summary>Writes JSON name by name, in a fixed order, so that a document's shape stands in one place and does not
/// follow the program's own records by accident.</summary>
public sealed class JsonText
{
    private static readonly JsonWriterOptions Options =
        new() { Indented = true, NewLine = "\n", Encoder = JavaScriptEncoder.UnsafeRelaxedJsonEscaping };

    private readonly Utf8JsonWriter writer;

    private JsonText(Utf8JsonWriter writer) => this.writer = writer;

    /// <summary>One document: an object whose members are written by <paramref name="members"/>.</summary>
    public static string Write(Action<JsonText> members)
    {
        using MemoryStream stream = new();
        using (Utf8JsonWriter document = new(stream, Options))
        {
            document.WriteStartObject();
            members(new(document));
            document.WriteEndObject();
        }
        return Encoding.UTF8.GetString(stream.GetBuffer(), 0, (int)stream.Length);
    }

    /// <summary>A text, or null.</summary>
    public JsonText Text(string name, string? text)
    {
        writer.WriteString(name, text);
        return this;
    }

    /// <summary>True or false.</summary>
    public JsonText Flag(string name, bool value)
    {
        writer.WriteBoolean(name, value);
        return this;
    }

    /// <summary>A number; null when there is none or it is not finite.</summary>
    public JsonText Number(string name, double? number)
    {
        writer.WritePropertyName(name);
        Value(number);
        return this;
    }

    /// <summary>A list of numbers.</summary>
    public JsonText Numbers(string name, IEnumerable<double> numbers)
    {
        writer.WriteStartArray(name);
        foreach (double number in numbers)
            Value(number);
        writer.WriteEndArray();
        return this;
    }

    /// <summary>A list of texts.</summary>
    public JsonText Texts(string name, IEnumerable<string> texts)
    {
        writer.WriteStartArray(name);
        foreach (string text in texts)
            writer.WriteStringValue(text);
        writer.WriteEndArray();
        return this;
    }

    /// <summary>An object inside.</summary>
    public JsonText Object(string name, Action members)
    {
        writer.WriteStartObject(name);
        members();
        writer.WriteEndObject();
        return this;
    }

    /// <summary>A list of objects.</summary>
    public JsonText List<T>(string name, IEnumerable<T> items, Action<T> members)
    {
        writer.WriteStartArray(name);
        foreach (T item in items)
        {
            writer.WriteStartObject();
            members(item);
            writer.WriteEndObject();
        }
        writer.WriteEndArray();
        return this;
    }

    private void Value(double? number)
    {
        if (number is { } value && double.IsFinite(value))
            writer.WriteNumberValue(value);
        else
            writer.WriteNullValue();
    }
}
