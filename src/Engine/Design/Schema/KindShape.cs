using System.Text.Json.Nodes;
using Consort.Engine.Quantities;

namespace Consort.Engine.Design.Schema;

/// <summary>Kinds of part as JSON Schema, from <see cref="PartKinds"/>.</summary>
internal static class KindShape
{
    /// <summary>The name under <c>definitions</c>.</summary>
    public static string NameOf(PartKind kind) => kind.Word.Replace(' ', '-');

    /// <summary>A circuit: designators and parts.</summary>
    public static JsonObject Circuit() =>
        Shape.MapOf(Shape.Reference("part"), "designator to part; nets are plain text and 0 V is ground");

    /// <summary>A part of any kind.</summary>
    public static JsonObject Part() =>
        Shape.AnyOf(
            "a part: its kind with the main value first, then each terminal with its net, then parameters",
            PartKinds.All.Select(kind => Shape.Reference(NameOf(kind)))
        );

    /// <summary>A part of one kind.</summary>
    public static JsonObject Of(PartKind kind)
    {
        List<Shape.Entry> entries = [new(kind.Word, Main(kind), Required: true)];
        entries.AddRange(Terminals(kind));
        entries.AddRange(
            kind.Parameters.Select(parameter => new Shape.Entry(
                parameter.Word,
                Shape.Quantity(parameter.Dimension, About(parameter), IsBare(parameter.Dimension, parameter.Word)),
                Required: parameter.Default is null
            ))
        );
        entries.AddRange(
            kind.Texts.Where(text => text.Word != "value")
                .Select(text => new Shape.Entry(text.Word, TextOf(text), Required: text.Word == "label"))
        );
        return Shape.Map(kind.Meaning, [.. entries]);
    }

    private static JsonObject Main(PartKind kind) =>
        kind.Main switch
        {
            MainValue.Quantity => Shape.Quantity(kind.ValueDimension!.Value, kind.Meaning, IsBareMain(kind.ValueDimension!.Value)),
            MainValue.Model => Shape.Text($"{kind.Meaning}: a name from the parts library, or 'ideal'"),
            MainValue.Formula => Shape.Text($"{kind.Meaning}: [net] is a net's voltage, t the time, T the temperature in K"),
            MainValue.QuantityOrFormula => Shape.Text($"{kind.Meaning}: a value or a formula"),
            _ => kind.Texts.FirstOrDefault(text => text.Word == "value") is { } value
                ? TextOf(value)
                : Shape.Text(kind.Meaning),
        };

    private static JsonObject TextOf(TextSpec text) =>
        text.Words.IsEmpty ? Shape.Text(text.Meaning) : Shape.Word(text.Meaning, text.Words);

    private static IEnumerable<Shape.Entry> Terminals(PartKind kind)
    {
        foreach (TerminalSpec terminal in kind.Terminals.Where(terminal => terminal.List is null))
            yield return new(terminal.Word, Shape.Text(terminal.Meaning), terminal.Required);
        foreach (IGrouping<string, TerminalSpec> list in kind.Terminals.Where(t => t.List is not null).GroupBy(t => t.List!))
            yield return new(
                list.Key,
                Shape.Tuple(Shape.Text(""), string.Join(", then ", list.Select(terminal => terminal.Meaning)), list.Count()),
                list.Any(terminal => terminal.Required)
            );
        if (kind.FreeList is { } free)
            yield return new(free, Shape.List(Shape.Text(""), "nets, in order"), Required: true);
    }

    // The reader's rules: 'resistor: 100k' and 'input resistance: 100k' say what they are.
    private static bool IsBareMain(Dimension dimension) =>
        dimension is Dimension.Resistance or Dimension.Capacitance or Dimension.Inductance;

    private static bool IsBare(Dimension dimension, string word) =>
        dimension == Dimension.Resistance && word.EndsWith("resistance", StringComparison.Ordinal);

    private static string About(ParameterSpec parameter) =>
        parameter.Default is { } value && !double.IsNaN(value)
            ? $"{parameter.Meaning}; not given: {QuantityText.Write(value, parameter.Dimension)}"
            : parameter.Meaning;
}
