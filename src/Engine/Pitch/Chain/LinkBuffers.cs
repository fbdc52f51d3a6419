using System.Collections.Immutable;
using Consort.Engine.Circuit.Wiring;
using Consort.Engine.Design;

namespace Consort.Engine.Pitch.Chain;

/// <summary>The op amps of a lead that drive its link: their output is a pin of the header, or joined to one through a
/// resistor that is small enough to be there for the cable's sake.</summary>
internal static class LinkBuffers
{
    private const double LargestSeries = 5e3; // ohm

    /// <summary>Their names in the voice's circuit.</summary>
    public static ImmutableArray<string> Of(Voice voice)
    {
        if (voice.Ribbons.IsEmpty)
            return [];
        Member lead = voice.Members.First(member => member.Name == voice.Ribbons[0].From.Owner);
        HashSet<string> pins =
        [
            .. lead
                .Module.Circuit.Where(part => part.Kind.Word == "header")
                .SelectMany(part => part.Terminals.Select(joint => joint.Net))
                .Where(net => net != CircuitDesign.Ground),
        ];
        HashSet<string> reached = [.. pins];
        foreach (Part part in lead.Module.Circuit)
        {
            if (part.Kind.Word != "resistor" || part.Number("value") > LargestSeries)
                continue;
            (string from, string to) = (part.NetAt("from")!, part.NetAt("to")!);
            if (pins.Contains(from))
                reached.Add(to);
            if (pins.Contains(to))
                reached.Add(from);
        }
        return
        [
            .. lead
                .Module.Circuit.Where(part => part.Kind.Word == "op amp" && reached.Contains(part.NetAt("out")!))
                .Select(part => $"{lead.Name}/{part.Name}"),
        ];
    }
}
