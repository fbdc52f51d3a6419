using System.Collections.Immutable;

namespace Consort.Engine.Design;

/// <summary>Checks what the nets of a circuit join: single ends, nets that float, sources in loops, no 0 V.</summary>
/// <param name="scope">The circuit's nets as they were read.</param>
/// <param name="at">Where the circuit stands.</param>
internal sealed class NetCheck(CircuitScope scope, SourceSpan at)
{
    private readonly ErrorList errors = scope.Errors;

    /// <summary>Reports every fault of the nets.</summary>
    /// <param name="complete">False when parts are missing: then only single ends are looked for.</param>
    public void Check(ImmutableArray<Part> parts, bool complete)
    {
        Dictionary<string, List<NetUse>> nets = [];
        foreach (NetUse use in scope.Uses)
            (nets.TryGetValue(use.Net, out List<NetUse>? uses) ? uses : nets[use.Net] = []).Add(use);
        CheckFormulas(nets);
        bool joined = CheckSingleEnds(nets);
        if (!complete)
            return;
        if (!nets.ContainsKey(CircuitDesign.Ground))
            NoGround(nets.Keys);
        else if (joined)
            CheckFloating(parts, nets);
        CheckSourceLoops(parts);
    }

    private void CheckFormulas(Dictionary<string, List<NetUse>> nets)
    {
        foreach (NetUse use in scope.FormulaUses)
            if (nets.TryGetValue(use.Net, out List<NetUse>? uses))
                uses.Add(use);
            else if (use.Net != CircuitDesign.Ground)
                errors.Add(ErrorCodes.FormulaNet, use.At, $"{use.Part}: no part joins the net {ErrorList.Quote(use.Net)}",
                    NearNet(use.Net, nets.Keys) is { } near ? $"did you mean '[{near}]'?" : "name a net of this circuit");
    }

    // '+12 V' and '-12 V', 'way 1' and 'way 2' are two nets and no slip.
    private static string? NearNet(string net, IEnumerable<string> all) =>
        NearName.Of(net, all.Where(other => Marks(other).SequenceEqual(Marks(net))));

    private static IEnumerable<char> Marks(string net) => net.Where(c => !char.IsLetter(c) && c != ' ');

    private bool CheckSingleEnds(Dictionary<string, List<NetUse>> nets)
    {
        bool joined = true;
        foreach ((string net, List<NetUse> uses) in nets)
        {
            if (net == CircuitDesign.Ground || uses.Count > 1 || uses[0].MayStandAlone)
                continue;
            joined = false;
            string? near = NearNet(net, nets.Keys);
            errors.Add(ErrorCodes.UnjoinedNet, uses[0].At, $"{uses[0].Part}: nothing else joins the net {ErrorList.Quote(net)}",
                near is not null ? $"did you mean '{near}'?" : "join another part to it, or write 'open' if the terminal stays open");
        }
        return joined;
    }

    private void NoGround(IEnumerable<string> nets)
    {
        string? other = nets.FirstOrDefault(net => net.Replace(" ", "").ToLowerInvariant() is "0" or "0v" or "gnd" or "ground" or "agnd");
        errors.Add(ErrorCodes.NoGround, at, "no part joins the net '0 V'",
            other is null ? "name the net that voltages are measured against '0 V'" : $"write '0 V' instead of '{other}'");
    }

    private void CheckFloating(ImmutableArray<Part> parts, Dictionary<string, List<NetUse>> nets)
    {
        NetGroups paths = new();
        foreach (Part part in parts)
            DirectPaths.Join(part, paths);
        foreach (IGrouping<string, string> group in nets.Keys.Where(net => !paths.AreOne(net, CircuitDesign.Ground)).GroupBy(paths.Of))
        {
            string[] names = [.. group];
            if (names is [string alone] && nets[alone] is [{ MayStandAlone: true }])
                continue;
            List<NetUse> uses = nets[names[0]];
            string ends = string.Join(", ", uses.Take(4).Select(use => $"{use.Part} {use.Terminal}"));
            string others = names.Length == 1 ? "" : names.Length == 2 ? $" (and '{names[1]}')" : $" (and {names.Length - 1} nets joined to it)";
            errors.Add(ErrorCodes.FloatingNet, uses[0].At, $"nothing sets the voltage of {ErrorList.Quote(names[0])}{others}: it joins only {ends}",
                uses.Exists(use => use.Terminal == "tip") ? "give the jack 'normal: 0 V', or add a resistor to 0 V" : "add a path for direct current, as a resistor to 0 V");
        }
    }

    private void CheckSourceLoops(ImmutableArray<Part> parts)
    {
        NetGroups sources = new();
        foreach (Part part in parts)
        {
            bool isInductor = part.Kind.Word == "inductor" && part.Number("series resistance") == 0 && double.IsNaN(part.Number("starts at"));
            if ((part.Kind.Word != "voltage source" && !isInductor) || sources.Join(part.Terminals[0].Net, part.Terminals[1].Net))
                continue;
            errors.Add(ErrorCodes.SourceLoop, part.At, $"{part.Name} closes a loop of ideal voltage sources",
                isInductor ? "give it its 'series resistance'" : "put a resistor in series with one of them");
        }
    }
}
