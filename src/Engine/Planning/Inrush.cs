using Consort.Engine.Circuit.Wiring;
using Consort.Engine.Design;

namespace Consort.Engine.Planning;

/// <summary>What a rail is asked for when it is switched on.</summary>
/// <param name="PeakAmps">If the supply rose at once: the modules' empty capacitors are then their series resistances at
/// the end of the bus. An upper bound, as no supply rises at once; infinite when nothing limits it.</param>
/// <param name="Coulombs">Charge that all capacitors on the rail take.</param>
public sealed record Inrush(double PeakAmps, double Coulombs)
{
    /// <summary>How long a supply that limits at its rating charges them, s, with the modules' own current drawn all the
    /// while; infinite when that current leaves nothing.</summary>
    public double SecondsAtLimit(double amps, double limit) => amps >= limit ? double.PositiveInfinity : Coulombs / (limit - amps);

    /// <summary>Of one rail, switched on by itself. Capacitors from the rail to 0 V of members with a power connector count
    /// whole, those to another rail too; what stands on the distribution board is not known.</summary>
    public static Inrush Of(Voice voice, Rail rail)
    {
        double perSlot = voice.Supply.SlotResistance + voice.Supply.GroundSlotResistance;
        double beyond = 0, farads = 0; // admittance of everything further along the bus, S
        foreach (Member member in voice.Members.Reverse())
        {
            if (SupplyWiring.Taps(member).Where(tap => tap.Rail == rail.Name).ToArray() is not [var tap, ..])
                continue;
            Part[] across = [.. member.Module.Circuit.Where(part => part.Kind.Word == "capacitor" && IsAcross(part, rail.Name, voice.Supply))];
            double own = across.Sum(part => 1 / part.Number("series resistance"));
            farads += across.Sum(part => part.Number("value"));
            double here = beyond + (own > 0 ? 1 / ((2 * tap.Contact) + (1 / own)) : 0);
            beyond = here > 0 ? 1 / (perSlot + (1 / here)) : 0;
        }
        double peak = beyond > 0 ? Math.Abs(rail.Voltage) / (rail.SourceResistance + (1 / beyond)) : 0;
        return new(peak, farads * Math.Abs(rail.Voltage));
    }

    private static bool IsAcross(Part part, string rail, Supply supply)
    {
        string? from = part.NetAt("from"), to = part.NetAt("to");
        string? other = from == rail ? to : to == rail ? from : null;
        return other == CircuitDesign.Ground || supply.Rails.Any(known => known.Name == other && known.Name != rail);
    }
}
