using System.Text.Json.Nodes;
using Consort.Engine.Quantities;

namespace Consort.Engine.Design.Schema;

/// <summary>What stands in each kind of design file.</summary>
internal static partial class FileShape
{
    /// <summary>A shape that stands under <c>definitions</c>, by its name.</summary>
    public static JsonObject Definition(string name) =>
        name == "part" ? KindShape.Part()
        : PartKinds.All.FirstOrDefault(kind => KindShape.NameOf(kind) == name) is { } kind ? KindShape.Of(kind)
        : QuantityShape.Definition(name) ?? throw new KeyNotFoundException($"no shape is named {name}");

    /// <summary>A circuit file.</summary>
    public static JsonObject Circuit() =>
        Shape.Map("a circuit by itself", new Shape.Entry("circuit", KindShape.Circuit(), true));

    /// <summary>A module file.</summary>
    public static JsonObject Module() =>
        Shape.Map(
            "one design that can be built many times",
            new("module", Shape.Text("its name"), true),
            new("about", Shape.Text("one paragraph for people")),
            new("panel", Panel(), true),
            new("pitch", Pitch()),
            new("trims", Shape.List(Trim(), "adjustments, in the order in which a person makes them", 0)),
            new("free", Shape.List(Shape.Text("designator of a resistor or capacitor with a tolerance"), "parts whose values may be chosen anew", 0)),
            new("passes", Shape.MapOf(Shape.Text(""), "label of an input to label of the output that hands the same voltage on")),
            new("circuit", KindShape.Circuit()),
            new("data sheet", DataSheet())
        );

    private static JsonObject Pitch() =>
        Shape.Map(
            "how an oscillator's pitch is read and what it should be",
            new("control", Shape.Text("label of the jack that carries the pitch voltage; left out by a follower fed over its link")),
            new("law", Q(Dimension.VoltagePerOctave, "the ideal law's slope"), true),
            new("reference", Shape.Text("ideal frequency at one voltage: 32.703 Hz at 0 V"), true),
            new("counted", Shape.Text("where periods are counted: rising through 2.5 V on saw core"), true),
            new("timing capacitor", Shape.Text("designator of the capacitor whose charging sets the period; it states 'starts at'"), true)
        );

    private static JsonObject Trim() =>
        Shape.Map(
            "one adjustment",
            new("trimmer", Shape.Text("designator of a trimmer"), true),
            new(
                "for",
                Shape.Word(
                    "tracking: low note against high; centre: the frequency at one voltage; high end: the topmost octaves; "
                        + "other: no pitch trim",
                    ["tracking", "centre", "high end", "other"]
                ),
                true
            ),
            new("low", Q(Dimension.Voltage, "lower control voltage, for tracking")),
            new("high", Q(Dimension.Voltage, "higher control voltage, for tracking")),
            new("at", Q(Dimension.Voltage, "the one control voltage, for centre and high end"))
        );

    private static JsonObject DataSheet() =>
        Shape.Map(
            "a bought module by its data sheet, instead of a circuit",
            new("inputs", Shape.MapOf(Shape.Quantity(Dimension.Resistance, "input resistance", bare: true), "label to input resistance")),
            new("outputs", Shape.MapOf(Shape.Quantity(Dimension.Resistance, "output resistance", bare: true), "label to output resistance")),
            new("tracking", Q(Dimension.Interval, "stated tracking error over five octaves")),
            new("current", Shape.MapOf(Q(Dimension.Current, "current drawn"), "rail to current drawn")),
            new("price", Q(Dimension.Money, "of one"))
        );

    private static JsonObject Q(Dimension dimension, string about, bool bare = false) =>
        Shape.Quantity(dimension, about, bare);
}
