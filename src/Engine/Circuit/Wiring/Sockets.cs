using Consort.Engine.Design;

namespace Consort.Engine.Circuit.Wiring;

/// <summary>Where a plug meets a circuit.</summary>
/// <param name="Tip">Net behind the tip contact.</param>
/// <param name="Return">Net behind the sleeve.</param>
/// <param name="Contact">Contact resistance of the tip, and of the sleeve, ohm.</param>
internal readonly record struct Socket(string Tip, string Return, double Contact);

/// <summary>Every jack of a voice by its name: those of members, players and multiples.</summary>
internal static class Sockets
{
    /// <summary>Contact resistance of a jack that no circuit states: the kind's default, ohm.</summary>
    public static double PlainContact { get; } = Blank.Default("jack", "contact resistance");

    /// <summary>All jacks.</summary>
    public static Dictionary<JackName, Socket> Of(Voice voice)
    {
        Dictionary<JackName, Socket> sockets = [];
        foreach (Member member in voice.Members)
            if (member.Module.Sheet is { } sheet)
                AddSheet(member, sheet, sockets);
            else
                AddCircuit(member, sockets);
        foreach (Player player in voice.Players)
            sockets[new(player.Name, "out")] = new($"{player.Name}/out", CircuitDesign.Ground, PlainContact);
        foreach (Multiple multiple in voice.Multiples)
            AddMultiple(multiple, sockets);
        return sockets;
    }

    private static void AddSheet(Member member, DataSheet sheet, Dictionary<JackName, Socket> sockets)
    {
        string ground = MemberParts.Net(member.Name, CircuitDesign.Ground);
        foreach (string label in sheet.Inputs.Keys.Concat(sheet.Outputs.Keys))
            sockets[new(member.Name, label)] = new(MemberParts.Net(member.Name, label), ground, PlainContact);
    }

    private static void AddCircuit(Member member, Dictionary<JackName, Socket> sockets)
    {
        foreach (Part jack in member.Module.Circuit)
            if (jack.Kind.Word == "jack")
                sockets[new(member.Name, jack.Texts["label"])] = new(
                    MemberParts.Net(member.Name, jack.NetAt("tip")!),
                    MemberParts.Net(member.Name, jack.NetAt("sleeve") ?? CircuitDesign.Ground),
                    jack.Number("contact resistance")
                );
    }

    private static void AddMultiple(Multiple multiple, Dictionary<JackName, Socket> sockets)
    {
        string ground = $"{multiple.Name}/0 V";
        sockets[new(multiple.Name, "in")] = new(
            multiple.Buffered ? $"{multiple.Name}/in" : $"{multiple.Name}/tips",
            ground,
            PlainContact
        );
        for (int way = 1; way <= multiple.Ways; way++)
            sockets[new(multiple.Name, $"{way}")] = new(
                multiple.Buffered ? $"{multiple.Name}/{way}" : $"{multiple.Name}/tips",
                ground,
                PlainContact
            );
    }
}
