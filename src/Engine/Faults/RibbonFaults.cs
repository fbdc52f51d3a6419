using Consort.Engine.Design;

namespace Consort.Engine.Faults;

/// <summary>What may be wrong at a ribbon's header: a wire missing, two pins bridged, the plug on the wrong pins. Two rows are taken,
/// pins counted across them, as ribbons are crimped.</summary>
internal static class RibbonFaults
{
    /// <summary>All of them.</summary>
    public static IEnumerable<Fault> Of(Part header)
    {
        string[] nets = [.. header.Terminals.Select(joint => joint.Net)];
        foreach (Joint pin in header.Terminals.Where(pin => pin.Net != CircuitDesign.Ground).DistinctBy(pin => pin.Net))
            yield return new(FaultKind.Ribbon, header.Name, $"{header.Name} has no contact at '{pin.Net}'")
            {
                Apply = parts => [.. Rework.Lift(parts, header, joint => joint.Net == pin.Net)],
            };
        foreach ((string one, string other) in nets.Zip(nets.Skip(1)).Where(pair => pair.First != pair.Second).DistinctBy(pair => string.CompareOrdinal(pair.First, pair.Second) < 0 ? pair : (pair.Second, pair.First)))
            yield return new(FaultKind.Ribbon, header.Name, $"{header.Name} has '{one}' and '{other}' bridged") { Apply = parts => [.. Rework.Join(parts, header, one, other)] };
        if (header.Texts.GetValueOrDefault("role") == "lead")
            yield break; // what hangs on a wrongly plugged ribbon shows at the other end
        yield return Plugged(header, "has its plug the wrong way round", [.. nets.Reverse()]);
        if (nets.Length % 2 == 0)
            yield return Plugged(header, "has the rows of its plug exchanged", [.. Enumerable.Range(0, nets.Length).Select(i => nets[i ^ 1])]);
        yield return Plugged(header, "has its plug one place too far on", [$"{header.Name} beside", .. nets[..^1]]);
        yield return Plugged(header, "has its plug one place too far back", [.. nets[1..], $"{header.Name} beside"]);
    }

    // Nets that lose their wire are kept from floating, and so is the wire beside the header.
    private static Fault Plugged(Part header, string words, string[] nets) =>
        new(FaultKind.Ribbon, header.Name, $"{header.Name} {words}")
        {
            Apply = parts =>
            [
                .. Rework.With(Rework.Lift(parts, header, _ => true), header.Name, one => Rework.On(one, nets)),
                .. nets.Where(net => net.EndsWith(" beside", StringComparison.Ordinal)).SelectMany(net => Rework.Join([], header, net, CircuitDesign.Ground, Rework.LeakOhms)),
            ],
        };
}
