using Consort.Engine.Design;

namespace Consort.Engine.Circuit.Motion;

/// <summary>Finds the unknowns that decide when something happens: their errors become errors of a period, so a run holds
/// them tighter than the rest.</summary>
internal static class Decisive
{
    // How much tighter a trigger is held than the rest of what decides: its flip grows out of whatever the error control
    // still counts as nothing.
    private const double TriggerShare = 0.1;

    /// <summary>What decides, each with its share of the timing tolerance: nets of timing capacitors (those that state
    /// 'starts at'), what comparators, switches and probes go by, and op amps that feed themselves back to plus.</summary>
    public static Dictionary<int, double> Unknowns(Circuit circuit, IEnumerable<int> reads)
    {
        Dictionary<int, double> found = new(circuit.DecisiveParts ??= ByParts(circuit));
        foreach (int read in reads)
            found.TryAdd(read, 1);
        found.Remove(0);
        return found;
    }

    // What no probe changes: looked for once a circuit, since a run begins for every note that is read.
    private static Dictionary<int, double> ByParts(Circuit circuit)
    {
        Dictionary<int, double> found = [];
        foreach (Part part in circuit.Design.Parts)
            if (part.Kind.Word == "capacitor" && !double.IsNaN(part.Number("starts at")))
                foreach (Joint joint in part.Terminals)
                    found[circuit.Net(joint.Net)] = 1;
        foreach (Part trigger in Triggers(circuit.Design))
        {
            found[circuit.Net(trigger.NetAt("plus")!)] = TriggerShare;
            found[circuit.Net(trigger.NetAt("out")!)] = TriggerShare;
            for (int i = 1; i < circuit.Length; i++)
                if (circuit.Unknowns[i].IsInner && circuit.Unknowns[i].Name.StartsWith(trigger.Name + " ", StringComparison.Ordinal))
                    found[i] = TriggerShare;
        }
        return found;
    }

    /// <summary>Op amps whose output reaches their own plus input through two-terminal parts alone.</summary>
    internal static IEnumerable<Part> Triggers(CircuitDesign design)
    {
        HashSet<string> held = [CircuitDesign.Ground, .. design.Parts.Where(HoldsItsNets).SelectMany(Held)];
        Part[] passive = [.. design.Parts.Where(part => part.Terminals.Length is 2 or 3 && IsPassive(part))];
        foreach (Part amp in design.Parts.Where(part => part.Kind.Word == "op amp"))
        {
            string output = amp.NetAt("out")!;
            HashSet<string> reached = [output];
            Stack<string> open = new([output]);
            while (open.TryPop(out string? net))
                foreach (Part part in passive.Where(part => part.Terminals.Any(joint => joint.Net == net)))
                    foreach (Joint joint in part.Terminals)
                        if (!held.Contains(joint.Net) && reached.Add(joint.Net))
                            open.Push(joint.Net);
            if (reached.Contains(amp.NetAt("plus")!))
                yield return amp;
        }
    }

    private static bool IsPassive(Part part) => part.Kind.Word is "resistor" or "capacitor" or "potentiometer" or "trimmer" or "diode" or "zener";

    // What another part drives or supplies is no way round.
    private static bool HoldsItsNets(Part part) => part.Kind.Word is "op amp" or "voltage source" or "reference" or "regulator";

    private static IEnumerable<string> Held(Part part) =>
        part.Terminals.Where(joint => joint.Terminal is not ("plus" or "minus") || part.Kind.Word == "voltage source").Select(joint => joint.Net);
}
