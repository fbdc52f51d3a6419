using System.Collections.Immutable;
using Consort.Engine.Design;

namespace Consort.Engine.Circuit.Wiring;

/// <summary>Parts with every parameter at its kind's default, to be filled in by wiring.</summary>
internal static class Blank
{
    private static readonly Template ResistorTemplate = new("resistor");
    private static readonly Template CapacitorTemplate = new("capacitor");
    private static readonly Template VoltageTemplate = new("voltage source");
    private static readonly Template CurrentTemplate = new("current source");
    private static readonly Template OpAmpTemplate = new("op amp");

    /// <summary>A resistor of no value yet.</summary>
    public static Part Resistor(string name, string from, string to) => ResistorTemplate.Make(name, from, to);

    /// <summary>A capacitor of no value yet.</summary>
    public static Part Capacitor(string name, string from, string to) => CapacitorTemplate.Make(name, from, to);

    /// <summary>A voltage source of no value yet.</summary>
    public static Part VoltageSource(string name, string plus, string minus) =>
        VoltageTemplate.Make(name, plus, minus);

    /// <summary>A current source of no value yet.</summary>
    public static Part CurrentSource(string name, string from, string to) => CurrentTemplate.Make(name, from, to);

    /// <summary>An op amp with its kind's defaults.</summary>
    public static Part OpAmp(string name, string plus, string minus, string output, string positive, string negative) =>
        OpAmpTemplate.Make(name, plus, minus, output, positive, negative);

    /// <summary>A kind's default for one of its parameters, SI units: wiring takes its constants from the kinds
    /// <c>cord</c>, <c>ribbon</c> and <c>power</c>, where they are published.</summary>
    public static double Default(string kind, string word) =>
        PartKinds.Find(kind)!.Parameters.First(parameter => parameter.Word == word).Default!.Value;

    private sealed class Template
    {
        private readonly PartKind kind;
        private readonly ImmutableDictionary<string, double> numbers;
        private readonly ImmutableDictionary<string, string> texts;

        public Template(string word)
        {
            kind = PartKinds.Find(word)!;
            numbers = kind.Parameters.Where(parameter => parameter.Default is not null)
                .ToImmutableDictionary(parameter => parameter.Word, parameter => parameter.Default!.Value);
            if (kind.Main is MainValue.Quantity or MainValue.QuantityOrFormula)
                numbers = numbers.SetItem("value", 0);
            texts = kind.Texts.Where(text => text.Default is not null)
                .ToImmutableDictionary(text => text.Word, text => text.Default!);
            if (kind.Main == MainValue.Model)
                texts = texts.SetItem("model", "ideal");
        }

        public Part Make(string name, params ReadOnlySpan<string> nets)
        {
            Joint[] joints = new Joint[nets.Length];
            for (int i = 0; i < joints.Length; i++)
                joints[i] = new(kind.Terminals[i].Word, nets[i]);
            return new(name, kind, [.. joints], numbers, texts, [], SourceSpan.None);
        }
    }
}
