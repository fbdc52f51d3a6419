using Consort.Engine.Design;
using Consort.Engine.Quantities;

namespace Consort.Engine.Orders;

/// <summary>What makes two parts one line of an order: kind, value or model, the grades that the circuit asks for, form.</summary>
/// <param name="Kind">The kind.</param>
/// <param name="Value">Value in SI units; null for kinds named by model or word.</param>
/// <param name="Model">Model; null for the rest.</param>
/// <param name="Tolerance">Largest tolerance that will do, relative; null when the circuit asks for none.</param>
/// <param name="Drift">Largest drift that will do, per kelvin; null when the circuit asks for none.</param>
/// <param name="Tempco">Temperature coefficient wanted, per kelvin; null for none in particular.</param>
/// <param name="Form">What else matters: taper, turns, ways, pins; empty when nothing does.</param>
internal sealed record PartSort(
    PartKind Kind,
    double? Value,
    string? Model,
    double? Tolerance,
    double? Drift,
    double? Tempco,
    string Form
)
{
    /// <summary>The sort of a part of a circuit.</summary>
    public static PartSort Of(Part part, int members = 1) =>
        new(
            part.Kind,
            ValueOf(part),
            part.Kind.Main == MainValue.Model ? part.Texts["model"] : null,
            Asked(part, "tolerance"),
            Asked(part, "drift"),
            Asked(part, "tempco") is { } tempco and not 0 ? tempco : null, // written or not, none is none
            members > 1 ? $"array of {members}" : FormOf(part)
        );

    /// <summary>Generic designation: <c>100k 0.1% 25 ppm/K</c>, <c>TL072</c>, <c>1 pole 3 ways</c>.</summary>
    public string What()
    {
        string value = Model ?? (Value is { } number ? QuantityText.Write(number, Kind.ValueDimension!.Value) : "");
        string tolerance = Tolerance is { } t ? QuantityText.Write(t, Dimension.Ratio) : "";
        string tempco = Tempco is { } c ? $"tempco {QuantityText.Write(c, Dimension.PerKelvin)}" : "";
        string drift = Drift is { } d ? QuantityText.Write(d, Dimension.PerKelvin) : "";
        return string.Join(' ', new[] { value, tolerance, tempco, drift, Form }.Where(word => word.Length > 0));
    }

    private static double? ValueOf(Part part) =>
        part.Kind.Main == MainValue.Quantity && part.Kind.Word != "selector" ? part.Number("value") : null; // a selector's is where it stands

    private static double? Asked(Part part, string word) => part.Written.Contains(word) ? part.Number(word) : null;

    private static string FormOf(Part part) =>
        part.Kind.Word switch
        {
            "potentiometer" => part.Texts.GetValueOrDefault("taper") ?? "",
            "trimmer" => part.Number("turns") is var turns && turns > 1 ? $"{turns:0.##} turns" : "single turn",
            "selector" => $"1 pole {Count(part, "way ")} ways",
            "header" => $"{Count(part, "pin ")} pins",
            "power" => $"{Count(part, "rail ")} rails",
            "jack" => "mono",
            _ => "",
        };

    private static int Count(Part part, string prefix) =>
        part.Terminals.Count(joint => joint.Terminal.StartsWith(prefix, StringComparison.Ordinal));
}
