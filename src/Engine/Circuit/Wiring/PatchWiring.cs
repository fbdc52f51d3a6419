using Consort.Engine.Design;

namespace Consort.Engine.Circuit.Wiring;

/// <summary>Everything in front of the panels: players, multiples, cords, and the normals of jacks without a plug.</summary>
internal static class PatchWiring
{
    private static readonly double CordOhms = Blank.Default("cord", "resistance");
    private static readonly double CordFarads = Blank.Default("cord", "capacitance");

    /// <summary>A player is <c>NAME/V</c> behind <c>NAME/R</c>. Its own ground is the supply's star point: it is taken
    /// as fed from the same supply, so the screen of its cord lies in parallel with the module's ground wire.</summary>
    public static void AddPlayer(Player player, Harness harness)
    {
        harness.VoltageSource($"{player.Name}/V", player.At, $"{player.Name}/source", CircuitDesign.Ground);
        harness.Resistor(
            $"{player.Name}/R",
            player.Resistance,
            $"{player.Name}/source",
            $"{player.Name}/out",
            new(Cause.Loading, 0)
        );
    }

    /// <summary>A passive multiple is one net and needs no part. A buffered one has an op amp as a follower for each
    /// output, with the kind's defaults and the stated limit of offset, fed straight from the supply's rails, its
    /// ground at the star point. Left out: its place along the supply's wiring.</summary>
    public static void AddMultiple(Multiple multiple, Supply supply, Harness harness)
    {
        if (!multiple.Buffered)
            return;
        string name = multiple.Name;
        string positive = SupplyWiring.Net(supply.Rails.MaxBy(rail => rail.Voltage)!.Name);
        string negative = SupplyWiring.Net(supply.Rails.MinBy(rail => rail.Voltage)!.Name);
        harness.Wire($"{name}/ground", 0, SupplyWiring.PlainContact, $"{name}/0 V", CircuitDesign.Ground, Cause.Ground);
        harness.Resistor(
            $"{name}/input",
            multiple.InputResistance,
            $"{name}/in",
            $"{name}/0 V",
            new(Cause.Loading, double.PositiveInfinity)
        );
        for (int way = 1; way <= multiple.Ways; way++)
        {
            Part buffer = Blank.OpAmp(
                $"{name}/buffer {way}",
                $"{name}/in",
                $"{name}/buffered {way}",
                $"{name}/buffered {way}",
                positive,
                negative
            );
            harness.Add(
                buffer with { Numbers = buffer.Numbers.SetItem("offset within", multiple.OffsetWithin) }
            );
            harness.Resistor(
                $"{name}/output {way}",
                multiple.OutputResistance,
                $"{name}/buffered {way}",
                $"{name}/{way}",
                new(Cause.Loading, 0)
            );
        }
    }

    /// <summary>A cord: tip to tip and sleeve to sleeve, each through copper and the contacts of both jacks, with half
    /// of the capacitance from tip to sleeve at each end. Its screen is taken to have the conductor's resistance per
    /// metre. It ties the two modules' grounds together, as a real one does.</summary>
    public static void AddCord(Cord cord, Dictionary<JackName, Socket> sockets, Harness harness)
    {
        string name = $"{cord.From} to {cord.To}";
        Socket a = sockets[cord.From];
        Socket b = sockets[cord.To];
        double contacts = a.Contact + b.Contact;
        harness.Wire($"{name} tip", CordOhms * cord.Length, contacts, a.Tip, b.Tip, Cause.Loading);
        harness.Wire($"{name} screen", CordOhms * cord.Length, contacts, a.Return, b.Return, Cause.Ground);
        double half = CordFarads * cord.Length / 2;
        harness.Capacitor($"{name} capacitance at {cord.From}", half, a.Tip, a.Return, Cause.None);
        harness.Capacitor($"{name} capacitance at {cord.To}", half, b.Tip, b.Return, Cause.None);
    }

    /// <summary>The normals of a member's jacks: each joined to its tip only while nothing is plugged in.</summary>
    public static void AddNormals(Member member, HashSet<JackName> plugged, Harness harness)
    {
        foreach (Part jack in member.Module.Circuit)
        {
            if (jack.Kind.Word != "jack" || jack.NetAt("normal") is not { } normal)
                continue;
            if (plugged.Contains(new(member.Name, jack.Texts["label"])))
                continue;
            harness.Wire(
                $"{member.Name}/{jack.Name} normal",
                0,
                jack.Number("contact resistance"),
                MemberParts.Net(member.Name, normal),
                MemberParts.Net(member.Name, jack.NetAt("tip")!),
                Cause.Loading
            );
        }
    }

    /// <summary>A module by its data sheet: input resistances to its 0 V, outputs at 0 V behind their resistance,
    /// and a constant current from each rail. Left out: everything else that it does.</summary>
    public static void AddSheet(Member member, DataSheet sheet, Supply supply, Harness harness)
    {
        string At(string net) => MemberParts.Net(member.Name, net);
        string ground = At(CircuitDesign.Ground);
        foreach ((string label, double ohms) in sheet.Inputs.OrderBy(input => input.Key, StringComparer.Ordinal))
            harness.Resistor(At($"{label} input"), ohms, At(label), ground, null);
        foreach ((string label, double ohms) in sheet.Outputs.OrderBy(output => output.Key, StringComparer.Ordinal))
        {
            harness.VoltageSource(At($"{label} V"), 0, At($"{label} source"), ground);
            harness.Resistor(At($"{label} output"), ohms, At($"{label} source"), At(label), new(Cause.Loading, 0));
        }
        foreach (Rail rail in supply.Rails)
            if (sheet.RailCurrents.TryGetValue(rail.Name, out double amperes))
                if (rail.Voltage >= 0)
                    harness.CurrentSource(At($"{rail.Name} current"), amperes, At(rail.Name), ground);
                else
                    harness.CurrentSource(At($"{rail.Name} current"), amperes, ground, At(rail.Name));
    }
}
