using Consort.Engine.Design;

namespace Consort.Engine.Circuit.Wiring;

/// <summary>
/// A voice as one circuit. A member's parts and nets have its name in front: <c>lead/R3</c>, <c>lead/pitch sum</c>; its
/// own 0 V is <c>lead/0 V</c>. The supply's star point is <c>0 V</c>. A player's source is <c>keyboard/V</c>, standing
/// at the player's <c>at</c>. Jacks, headers and power connectors become the resistances that they are. Order and
/// names depend on nothing but the voice.
/// </summary>
public static class VoiceCircuit
{
    /// <summary>Wires the voice up. It must be one that the reader found without error.</summary>
    public static CircuitDesign Build(Voice voice)
    {
        Harness harness = new();
        AddPlayersAndMultiples(voice, harness);
        AddMembers(voice, harness);
        SupplyWiring.AddTo(harness, voice);
        Dictionary<JackName, Socket> sockets = Sockets.Of(voice);
        foreach (Cord cord in voice.Cords)
            PatchWiring.AddCord(cord, sockets, harness);
        foreach (Ribbon ribbon in voice.Ribbons)
            RibbonWiring.AddTo(harness, ribbon, voice);
        return new(voice.Name, harness.Parts);
    }

    private static void AddPlayersAndMultiples(Voice voice, Harness harness)
    {
        foreach (Player player in voice.Players)
            PatchWiring.AddPlayer(player, harness);
        foreach (Multiple multiple in voice.Multiples)
            PatchWiring.AddMultiple(multiple, voice.Supply, harness);
    }

    private static void AddMembers(Voice voice, Harness harness)
    {
        HashSet<JackName> plugged = [.. voice.Cords.SelectMany<Cord, JackName>(cord => [cord.From, cord.To])];
        foreach (Member member in voice.Members)
        {
            if (member.Module.Sheet is { } sheet)
                PatchWiring.AddSheet(member, sheet, voice.Supply, harness);
            new MemberParts(member).AddTo(harness);
            PatchWiring.AddNormals(member, plugged, harness);
        }
    }
}
