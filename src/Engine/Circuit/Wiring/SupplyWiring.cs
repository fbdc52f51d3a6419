using Consort.Engine.Design;

namespace Consort.Engine.Circuit.Wiring;

/// <summary>
/// The supply and the wiring of its slots. Each rail is a source behind its resistance at the net <c>supply/+12 V</c>;
/// from there one wire passes the slots of all modules that have a power connector, in panel order, and each module is
/// tapped off through its contacts at <c>supply/+12 V at lead</c>. 0 V runs the same way from the star point <c>0 V</c>,
/// at which all voltages are measured. Left out: ripple, noise and the supply's reaction time.
/// </summary>
internal static class SupplyWiring
{
    /// <summary>Contact resistance of a power connector that no circuit states: the kind's default, ohm.</summary>
    public static double PlainContact { get; } = Blank.Default("power", "contact resistance");

    /// <summary>The net of a rail at the supply's terminals.</summary>
    public static string Net(string rail) => rail == CircuitDesign.Ground ? rail : $"supply/{rail}";

    /// <summary>Adds the sources and the wiring.</summary>
    public static void AddTo(Harness harness, Voice voice)
    {
        List<(Member Member, List<Tap> Taps)> slots =
        [
            .. voice.Members.Select(member => (member, Taps(member))).Where(slot => slot.Item2.Count > 0),
        ];
        foreach (Rail rail in voice.Supply.Rails)
        {
            AddSource(harness, rail);
            AddBus(harness, rail.Name, voice.Supply.SlotResistance, slots, Cause.Supply);
        }
        AddBus(harness, CircuitDesign.Ground, voice.Supply.GroundSlotResistance, slots, Cause.Ground);
    }

    /// <summary>What a module's power connectors join: net, contacts' resistance and the part's name.</summary>
    public static List<Tap> Taps(Member member)
    {
        if (member.Module.Sheet is { } sheet)
            return
            [
                .. sheet
                    .RailCurrents.Keys.Order(StringComparer.Ordinal)
                    .Append(CircuitDesign.Ground)
                    .Select(rail => new Tap($"{member.Name}/power {rail}", rail, PlainContact)),
            ];
        List<Tap> taps = [];
        foreach (Part connector in member.Module.Circuit)
            if (connector.Kind.Word == "power")
                foreach (string rail in connector.Terminals.Select(joint => joint.Net).Distinct())
                    taps.Add(
                        new($"{member.Name}/{connector.Name} {rail}", rail, connector.Number("contact resistance"))
                    );
        return taps;
    }

    private static void AddSource(Harness harness, Rail rail)
    {
        string name = Net(rail.Name);
        harness.Rail(name, rail, $"{name} source", CircuitDesign.Ground);
        harness.Resistor($"{name} resistance", rail.SourceResistance, $"{name} source", name, new(Cause.Supply, 0));
    }

    private static void AddBus(
        Harness harness,
        string rail,
        double slotResistance,
        List<(Member Member, List<Tap> Taps)> slots,
        Cause cause
    )
    {
        string last = Net(rail);
        double ohms = 0;
        foreach ((Member member, List<Tap> taps) in slots)
        {
            ohms += slotResistance;
            if (!taps.Exists(tap => tap.Rail == rail))
                continue;
            string node = $"supply/{rail} at {member.Name}";
            harness.Wire($"supply/{rail} to {member.Name}", 0, ohms, last, node, cause);
            foreach (Tap tap in taps.Where(tap => tap.Rail == rail))
                harness.Wire(tap.Name, 0, tap.Contact, node, MemberParts.Net(member.Name, rail), cause, ContactRating.Socket);
            last = node;
            ohms = 0;
        }
    }

    /// <summary>One rail of a power connector.</summary>
    public readonly record struct Tap(string Name, string Rail, double Contact);
}
