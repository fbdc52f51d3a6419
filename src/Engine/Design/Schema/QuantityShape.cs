using System.Text.Json.Nodes;
using System.Text.RegularExpressions;
using Consort.Engine.Quantities;

namespace Consort.Engine.Design.Schema;

/// <summary>Quantities as JSON Schema: a pattern of a number and the dimension's units, as <see cref="Quantity"/> reads
/// them; where no unit is needed, a bare number too.</summary>
internal static class QuantityShape
{
    private const string Number = @"[-+−±]?(?:\d+\.?\d*|\.\d+)(?:[eE][-+]?\d+)?";
    private const string Code = @"[-+−]?\d*[RLFHVTGMkKmuµμnpf]\d+"; // IEC 60062: 4k7, R47, 2V5

    private static readonly Dimension[] Coded =
    [
        Dimension.Resistance,
        Dimension.Capacitance,
        Dimension.Inductance,
        Dimension.Voltage,
    ];

    /// <summary>A reference to the dimension's definition.</summary>
    public static JsonObject Reference(Dimension dimension, bool bare) =>
        Shape.Reference(NameOf(dimension, bare || Quantity.NeedsNoUnit(dimension)));

    /// <summary>The definition of that name, or null.</summary>
    public static JsonObject? Definition(string name)
    {
        foreach (Dimension dimension in Enum.GetValues<Dimension>())
            foreach (bool bare in new[] { false, true })
                if (NameOf(dimension, bare) == name)
                    return Define(dimension, bare);
        return null;
    }

    private static string NameOf(Dimension dimension, bool bare) =>
        $"quantity{string.Concat(dimension.ToString().Select(c => char.IsUpper(c) ? $"-{char.ToLowerInvariant(c)}" : $"{c}"))}{(bare ? "-or-number" : "")}";

    private static JsonObject Define(Dimension dimension, bool bare)
    {
        string units = string.Join('|', Units.Spellings(dimension).Select(Written));
        string multiplier = bare ? "|[TGMkKmuµμnpf]" : "";
        string body = $"-?infinite|{Number} *(?:{units}{multiplier}){(bare ? "?" : "")}";
        if (Coded.Contains(dimension))
            body += $"|{Code}(?: *(?:{units}))?";
        JsonObject text = new() { ["type"] = "string", ["pattern"] = $"^(?:{body})$" };
        DimensionWords words = DimensionWords.Of(dimension);
        JsonObject shape = new() { ["description"] = $"{words.Name}, as {words.Example}" };
        if (!bare)
        {
            shape["type"] = "string";
            shape["pattern"] = text["pattern"]!.DeepClone();
            return shape;
        }
        shape["anyOf"] = new JsonArray(new JsonObject { ["type"] = "number" }, text);
        return shape;
    }

    // From the reader's one spelling to all that it takes for the same.
    private static string Written(string spelling) =>
        Regex
            .Escape(spelling)
            .Replace("u", "[uµμ]", StringComparison.Ordinal)
            .Replace("ohm", "(?:ohm|Ω|\u2126)", StringComparison.Ordinal)
            .Replace("rt", "(?:rt|√)", StringComparison.Ordinal)
            .Replace("degC", "(?:degC|[°º]C|℃)", StringComparison.Ordinal)
            .Replace("\\^2", "(?:\\^2|²)", StringComparison.Ordinal);
}
