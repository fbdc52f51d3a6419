using System.Collections.Immutable;
using Consort.Engine.Design;
using Consort.Engine.Documents;
using Consort.Engine.Quantities;

namespace Consort.Engine.Faults;

/// <summary>What may be wrong with a module, from its own circuit: each part by what parts of its kind suffer at the bench (common
/// practice, no source).</summary>
internal static class FaultList
{
    private const double OpenOhms = 1e9, ShortOhms = 0.2, StuckOhms = 50;
    private const double WeakGain = 0.1;
    private const double OpenFarads = 1e-15;

    // Bands next to each other in light that is none too good: brown, red, orange, violet, grey (common practice, no source).
    private static readonly Dictionary<char, char> Misread = new() { ['1'] = '2', ['2'] = '3', ['3'] = '2', ['4'] = '7', ['7'] = '4', ['5'] = '6', ['6'] = '5', ['8'] = '6' };

    /// <summary>All of them, in the order of the file.</summary>
    public static ImmutableArray<Fault> Of(Module module) =>
        [.. module.Circuit.SelectMany(part => OfPart(module, part)).Concat(Swaps(module)).DistinctBy(fault => fault.Words)];

    private static IEnumerable<Fault> OfPart(Module module, Part part) =>
        part.Kind.Word switch
        {
            "resistor" => Values(part, "Ω").Append(Set(part, FaultKind.Open, "is open", OpenOhms)).Append(Set(part, FaultKind.Short, "is bridged", ShortOhms)),
            "capacitor" => Values(part, "F").Append(Set(part, FaultKind.Open, "is open", OpenFarads)).Append(Bridge(part, part.Terminals[0].Net, part.Terminals[1].Net, "is shorted")),
            "trimmer" or "potentiometer" => [Set(part, FaultKind.Decade, $"is {Text(10 * part.Number("value"), "Ω")} instead of {Text(part.Number("value"), "Ω")}", 10 * part.Number("value")), Set(part, FaultKind.Decade, $"is {Text(part.Number("value") / 10, "Ω")} instead of {Text(part.Number("value"), "Ω")}", part.Number("value") / 10), Off(part, "wiper", "has an open wiper")],
            "npn" or "pnp" => Transistor(part),
            "n jfet" or "p jfet" => [Gone(part, "does not conduct"), Bridge(part, part.NetAt("drain")!, part.NetAt("source")!, "is shorted from drain to source")],
            "diode" => [Gone(part, "is open"), Bridge(part, part.NetAt("anode")!, part.NetAt("cathode")!, "is shorted"), Exchanged(part, "anode", "cathode", "is the wrong way round")],
            "op amp" => [.. Stuck(part)],
            "header" => Ribbon(part),
            _ => [],
        };

    private static IEnumerable<Fault> Values(Part part, string unit)
    {
        double value = part.Number("value");
        foreach ((FaultKind kind, double other) in Others(value))
            yield return Set(part, kind, $"is {Text(other, unit)} instead of {Text(value, unit)}", other);
    }

    private static IEnumerable<(FaultKind, double)> Others(double value)
    {
        yield return (FaultKind.Decade, 10 * value);
        yield return (FaultKind.Decade, value / 10);
        Series e12 = Series.Find("E12")!;
        yield return (FaultKind.Neighbour, e12.Nearest(1.21 * value));
        yield return (FaultKind.Neighbour, e12.Nearest(value / 1.21));
        double decade = Math.Pow(10, Math.Floor(Math.Log10(value) + 1e-9));
        string digits = Math.Round(value / decade * 100).ToString("0");
        if (digits.Length > 0 && Misread.TryGetValue(digits[0], out char other))
            yield return (FaultKind.Misread, double.Parse(other + digits[1..]) * decade / 100);
    }

    private static IEnumerable<Fault> Transistor(Part part)
    {
        yield return Gone(part, "is dead");
        yield return Bridge(part, part.NetAt("collector")!, part.NetAt("emitter")!, "is shorted from collector to emitter");
        yield return Exchanged(part, "collector", "emitter", "is the wrong way round");
        yield return Exchanged(part, "base", "emitter", "has base and emitter exchanged");
        if (part.Numbers.ContainsKey("forward gain"))
            yield return With(FaultKind.Weak, part.Name, "is weak: a tenth of its gain", one => one with { Numbers = one.Numbers.SetItem("forward gain", WeakGain * one.Number("forward gain")) });
    }

    private static IEnumerable<Fault> Stuck(Part part)
    {
        foreach ((string terminal, string side) in ((string, string)[])[("supply +", "high"), ("supply -", "low")])
            if (part.NetAt(terminal) is { } rail && part.NetAt("out") is { } output)
                yield return new(FaultKind.Dead, part.Name, $"{part.Name} is dead, its output stuck {side}")
                {
                    Apply = parts =>
                    [
                        .. Lift(parts, part, "out"),
                        Resistor(part, $"{part.Name}.stuck", rail, output, StuckOhms),
                    ],
                };
    }

    private static IEnumerable<Part> Lift(IEnumerable<Part> parts, Part part, string terminal) =>
        parts
            .Select(found => found.Name == part.Name ? found with { Terminals = [.. found.Terminals.Select(joint => joint.Terminal == terminal ? joint with { Net = Lifted(part.Name, terminal) } : joint)] } : found)
            .Append(Resistor(part, $"{part.Name}.{terminal}", Lifted(part.Name, terminal), CircuitDesign.Ground, OpenOhms));

    private static IEnumerable<Fault> Ribbon(Part part)
    {
        ImmutableArray<Joint> pins = part.Terminals;
        foreach (Joint pin in pins.Where(pin => pin.Net != CircuitDesign.Ground).DistinctBy(pin => pin.Net))
            yield return With(FaultKind.Ribbon, part.Name, $"has no contact at '{pin.Net}'", one => one with { Terminals = [.. one.Terminals.Select(joint => joint.Net == pin.Net ? joint with { Net = $"{part.Name} open {pin.Terminal}" } : joint)] });
    }

    private static IEnumerable<Fault> Swaps(Module module)
    {
        Part[] parts = [.. module.Circuit.Where(part => part.Kind.Word is "resistor" or "capacitor")];
        for (int i = 0; i < parts.Length; i++)
            for (int j = i + 1; j < parts.Length; j++)
                if (parts[i].Kind == parts[j].Kind && j - i <= 1 && Math.Abs(Math.Log(parts[i].Number("value") / parts[j].Number("value"))) > 0.05)
                {
                    (Part a, Part b) = (parts[i], parts[j]);
                    yield return new(FaultKind.Swapped, $"{a.Name}, {b.Name}", $"{a.Name} and {b.Name} are in each other's place")
                    {
                        Apply = all => [.. all.Select(one => one.Name == a.Name ? Valued(one, b.Number("value")) : one.Name == b.Name ? Valued(one, a.Number("value")) : one)],
                    };
                }
    }

    private static Part Valued(Part part, double value) => part with { Numbers = part.Numbers.SetItem("value", value) };

    private static Fault Set(Part part, FaultKind kind, string words, double value) => With(kind, part.Name, words, one => Valued(one, value));

    private static Fault With(FaultKind kind, string name, string words, Func<Part, Part> change) =>
        new(kind, name, $"{name} {words}") { Apply = parts => [.. parts.Select(one => one.Name == name ? change(one) : one)] };

    // A part off its nets; what has no conductance left is kept from floating.
    private static Fault Gone(Part part, string words) =>
        new(FaultKind.Dead, part.Name, $"{part.Name} {words}")
        {
            Apply = parts =>
            [
                .. parts.Select(one => one.Name == part.Name ? one with { Terminals = [.. one.Terminals.Select(joint => joint with { Net = Lifted(part.Name, joint.Terminal) })] } : one),
                .. part.Terminals.Select(joint => Resistor(part, $"{part.Name}.{joint.Terminal}", Lifted(part.Name, joint.Terminal), CircuitDesign.Ground, OpenOhms)),
                .. part.Terminals.Where(joint => joint.Net != CircuitDesign.Ground).Select(joint => Resistor(part, $"{part.Name}.at {joint.Terminal}", joint.Net, CircuitDesign.Ground, OpenOhms)),
            ],
        };

    private static string Lifted(string part, string terminal) => $"{part} lifted {terminal}";

    private static Fault Bridge(Part part, string from, string to, string words) =>
        new(FaultKind.Short, part.Name, $"{part.Name} {words}") { Apply = parts => [.. parts, Resistor(part, $"{part.Name}.bridge", from, to, ShortOhms)] };

    private static Fault Exchanged(Part part, string one, string other, string words) =>
        With(FaultKind.Turned, part.Name, words, found => found with
        {
            Terminals = [.. found.Terminals.Select(joint => joint.Terminal == one ? joint with { Net = found.NetAt(other)! } : joint.Terminal == other ? joint with { Net = found.NetAt(one)! } : joint)],
        });

    private static Fault Off(Part part, string terminal, string words) =>
        new(FaultKind.Open, part.Name, $"{part.Name} {words}") { Apply = parts => [.. Lift(parts, part, terminal)] };

    private static Part Resistor(Part near, string name, string from, string to, double ohms)
    {
        PartKind kind = PartKinds.Find("resistor")!;
        ImmutableDictionary<string, double> numbers = kind.Parameters.Where(spec => spec.Default is not null).ToImmutableDictionary(spec => spec.Word, spec => spec.Default!.Value);
        return new(name, kind, [new("from", from), new("to", to)], numbers.SetItem("value", ohms).SetItem("tolerance", 0).SetItem("drift", 0), near.Kind == kind ? near.Texts : kind.Texts.Where(text => text.Default is not null).ToImmutableDictionary(text => text.Word, text => text.Default!), [], near.At);
    }

    private static string Text(double value, string unit) => Figures.Si(value, unit);
}
