using System.Collections.Immutable;
using Consort.Engine.Design;

namespace Consort.Engine.Faults;

/// <summary>Changes to a circuit's parts as a soldering iron makes them. What has no conductance left is kept from floating by what a
/// board leaks.</summary>
internal static class Rework
{
    /// <summary>What a board leaks between nets that nothing joins, ohm (common practice, no source).</summary>
    public const double LeakOhms = 1e9;

    /// <summary>A solder bridge, ohm.</summary>
    public const double BridgeOhms = 0.2;

    /// <summary>One part changed.</summary>
    public static IEnumerable<Part> With(IEnumerable<Part> parts, string name, Func<Part, Part> change) => parts.Select(one => one.Name == name ? change(one) : one);

    /// <summary>Terminals taken off their nets.</summary>
    public static IEnumerable<Part> Lift(IEnumerable<Part> parts, Part part, Func<Joint, bool> which)
    {
        Joint[] lifted = [.. part.Terminals.Where(which)];
        IEnumerable<Part> leaks = lifted
            .Select(joint => Resistor($"{part.Name}.{joint.Terminal}", Lifted(part, joint), CircuitDesign.Ground, LeakOhms, part))
            .Concat(lifted.DistinctBy(joint => joint.Net).Where(joint => joint.Net != CircuitDesign.Ground).Select(joint => Resistor($"{part.Name}.at {joint.Terminal}", joint.Net, CircuitDesign.Ground, LeakOhms, part)));
        return With(parts, part.Name, one => one with { Terminals = [.. one.Terminals.Select(joint => which(joint) ? joint with { Net = Lifted(part, joint) } : joint)] }).Concat(leaks);
    }

    /// <summary>A resistance between two nets.</summary>
    public static IEnumerable<Part> Join(IEnumerable<Part> parts, Part near, string from, string to, double ohms = BridgeOhms) => parts.Append(Resistor($"{near.Name}.joint", from, to, ohms, near));

    /// <summary>A part whose terminals join other nets, in the terminals' order.</summary>
    public static Part On(Part part, IEnumerable<string> nets) => part with { Terminals = [.. part.Terminals.Zip(nets, (joint, net) => joint with { Net = net })] };

    /// <summary>A part with two terminals exchanged.</summary>
    public static Part Exchanged(Part part, string one, string other) =>
        On(part, part.Terminals.Select(joint => joint.Terminal == one ? part.NetAt(other)! : joint.Terminal == other ? part.NetAt(one)! : joint.Net));

    /// <summary>A part of another value.</summary>
    public static Part Valued(Part part, double value) => part with { Numbers = part.Numbers.SetItem("value", value) };

    private static string Lifted(Part part, Joint joint) => $"{part.Name} lifted {joint.Terminal}";

    private static Part Resistor(string name, string from, string to, double ohms, Part near)
    {
        PartKind kind = PartKinds.Find("resistor")!;
        ImmutableDictionary<string, double> numbers = kind.Parameters.Where(spec => spec.Default is not null).ToImmutableDictionary(spec => spec.Word, spec => spec.Default!.Value);
        ImmutableDictionary<string, string> texts = kind.Texts.Where(text => text.Default is not null).ToImmutableDictionary(text => text.Word, text => text.Default!);
        return new(name, kind, [new("from", from), new("to", to)], numbers.SetItem("value", ohms).SetItem("tolerance", 0).SetItem("drift", 0), texts, [], near.At);
    }
}
