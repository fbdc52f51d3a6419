using Consort.Engine.Circuit.Wiring;
using Consort.Engine.Design;

namespace Consort.Engine.Pitch.Locking;

/// <summary>By which wiring one oscillator feels another.</summary>
public enum CouplingPath
{
    /// <summary>Wires of the ribbon that carry voltages.</summary>
    Ribbon,
    /// <summary>Wires of the ribbon that carry 0 V.</summary>
    Reference,
    /// <summary>The rails.</summary>
    Supply,
    /// <summary>The supply's 0 V wire.</summary>
    Ground,
    /// <summary>Patch cords, multiples and players.</summary>
    Cords,
}

/// <summary>Tells the paths apart by the nets that an oscillator shares with the voice.</summary>
public static class CouplingPaths
{
    private const string SupplyNet = "supply/";

    /// <summary>The path that a shared net belongs to.</summary>
    public static CouplingPath Of(Voice voice, string net)
    {
        if (net.StartsWith(SupplyNet, StringComparison.Ordinal))
            return net[SupplyNet.Length..].StartsWith(CircuitDesign.Ground, StringComparison.Ordinal) ? CouplingPath.Ground : CouplingPath.Supply;
        int slash = net.IndexOf('/', StringComparison.Ordinal);
        (string owner, string own) = slash < 0 ? ("", net) : (net[..slash], net[(slash + 1)..]);
        foreach (Ribbon ribbon in voice.Ribbons)
            foreach (JackName end in ribbon.To.Prepend(ribbon.From).Where(end => end.Owner == owner))
                if (RibbonWiring.Find(voice, end) is { } header && RibbonWiring.Find(voice, ribbon.From) is { } lead)
                    for (int wire = 0; wire < Math.Min(header.Terminals.Length, lead.Terminals.Length); wire++)
                        if (header.Terminals[wire].Net == own)
                            return OfWire(voice, lead.Terminals[wire].Net);
        return CouplingPath.Cords;
    }

    private static CouplingPath OfWire(Voice voice, string net) =>
        net == CircuitDesign.Ground ? CouplingPath.Reference
        : voice.Supply.Rails.Any(rail => rail.Name == net) ? CouplingPath.Supply
        : CouplingPath.Ribbon;

    /// <summary>The path in words.</summary>
    public static string Words(CouplingPath path) =>
        path switch
        {
            CouplingPath.Ribbon => "ribbon",
            CouplingPath.Reference => "reference wire",
            CouplingPath.Supply => "supply",
            CouplingPath.Ground => "ground",
            _ => "cords",
        };

    /// <summary>What lessens it. Common practice, no source; by how much it does, the figure by path tells: half of a path's
    /// resistance is half of its share.</summary>
    public static string Mend(CouplingPath path) =>
        path switch
        {
            CouplingPath.Ribbon => "buffer the shared voltages at both ends, and keep sync and pulses away from the pitch wire",
            CouplingPath.Reference => "join more wires or thicker ones for 0 V in the ribbon, or let the follower look at the lead's 0 V without drawing current from it",
            CouplingPath.Supply => "give each oscillator a wire of its own to the supply, or a regulator for its reference and limits",
            CouplingPath.Ground => "give each oscillator a 0 V wire of its own to the supply",
            _ => "drive the shared voltages from a buffer",
        };
}
