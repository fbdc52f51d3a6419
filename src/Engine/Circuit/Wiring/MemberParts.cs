using System.Collections.Immutable;
using System.Runtime.InteropServices;
using System.Text.RegularExpressions;
using Consort.Engine.Design;

namespace Consort.Engine.Circuit.Wiring;

/// <summary>A member's own parts with its name in front of designators and nets, its controls set, and its inputs fed
/// by their normals where nothing is plugged in.</summary>
internal sealed class MemberParts(Member member)
{
    private static readonly Regex NetInFormula = new(@"\[[^\]]*\]", RegexOptions.NonBacktracking);
    private readonly Dictionary<string, string> nets = [];

    /// <summary>A net of the member in the voice: <c>lead/pitch sum</c>; its own 0 V is <c>lead/0 V</c>.</summary>
    public static string Net(string member, string net) => $"{member}/{net}";

    /// <summary>Adds every part but jacks, headers and power connectors, which become wiring.</summary>
    public void AddTo(Harness harness)
    {
        HashSet<string> pairs =
        [
            .. member.Module.Circuit.Where(part => part.Kind.Word == "matched pair").Select(part => part.Name),
        ];
        foreach (Part part in member.Module.Circuit)
            if (part.Kind.Word is not ("jack" or "header" or "power"))
                harness.Add(InVoice(part, pairs));
    }

    private Part InVoice(Part part, HashSet<string> pairs) =>
        part with
        {
            Name = Net(member.Name, part.Name),
            Terminals = Renamed(part),
            Numbers = WithControls(part),
            Texts = part.Texts.IsEmpty ? part.Texts : Renamed(part.Texts, pairs),
        };

    private ImmutableArray<Joint> Renamed(Part part)
    {
        // A switch whose reference is left open is controlled against 0 V: here its module's, not the voice's.
        bool addsReference = part.Kind.Word == "analog switch" && part.NetAt("reference") is null;
        Joint[] joints = new Joint[part.Terminals.Length + (addsReference ? 1 : 0)];
        for (int i = 0; i < part.Terminals.Length; i++)
            joints[i] = new(part.Terminals[i].Terminal, NetOf(part.Terminals[i].Net));
        if (addsReference)
            joints[^1] = new("reference", NetOf(CircuitDesign.Ground));
        return ImmutableCollectionsMarshal.AsImmutableArray(joints);
    }

    private ImmutableDictionary<string, double> WithControls(Part part)
    {
        if (!member.Set.TryGetValue(part.Name, out double set))
            return part.Numbers;
        return part.Numbers.SetItem(Stands(part), set);
    }

    /// <summary>The word that tells where a control stands.</summary>
    private static string Stands(Part part) => part.Kind.Word == "selector" ? "value" : "position";

    /// <summary>The controls of a member that stand elsewhere than its module has them.</summary>
    public static IEnumerable<(string Control, double Position)> Moved(Member member) =>
        from part in member.Module.Circuit
        where member.Set.TryGetValue(part.Name, out double set) && set != part.Number(Stands(part))
        select (part.Name, member.Set[part.Name]);

    private ImmutableDictionary<string, string> Renamed(
        ImmutableDictionary<string, string> texts,
        HashSet<string> pairs
    )
    {
        foreach ((string word, string text) in texts)
            if (word == "formula")
                texts = texts.SetItem(word, FormulaInVoice(text));
            else if (pairs.Contains(text))
                texts = texts.SetItem(word, Net(member.Name, text));
        return texts;
    }

    // A module's formula means voltages against the module's own 0 V.
    private string FormulaInVoice(string formula) =>
        NetInFormula.Replace(
            formula,
            match =>
            {
                string net = match.Value[1..^1].Trim();
                return net == CircuitDesign.Ground ? "0" : $"([{NetOf(net)}] - [{NetOf(CircuitDesign.Ground)}])";
            }
        );

    private string NetOf(string net)
    {
        if (!nets.TryGetValue(net, out string? full))
            nets[net] = full = Net(member.Name, net);
        return full;
    }
}
