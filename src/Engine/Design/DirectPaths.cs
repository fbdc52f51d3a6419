namespace Consort.Engine.Design;

/// <summary>Which terminals of a kind let direct current pass between them, or set a voltage or current of their own.</summary>
internal static class DirectPaths
{
    /// <summary>Joins the nets that a part connects for direct current; a net that something outside drives is joined to 0 V.</summary>
    public static void Join(Part part, NetGroups groups)
    {
        switch (part.Kind.Word)
        {
            case "capacitor":
                // Held in the operating point, or leaking: then its ends are not free.
                if (!double.IsNaN(part.Number("starts at")) || double.IsFinite(part.Number("leakage")))
                    Chain(part, groups, "from", "to");
                break;
            case "n jfet" or "p jfet":
                Chain(part, groups, "drain", "source");
                break;
            case "n mosfet" or "p mosfet":
                Chain(part, groups, "drain", "source", "body");
                break;
            case "op amp" or "comparator":
                Chain(part, groups, "out", "emitter", "supply +", "supply -");
                break;
            case "ota":
                Chain(part, groups, "out", "bias", "supply +", "supply -");
                break;
            case "analog switch":
                Chain(part, groups, "a", "b");
                break;
            case "jack":
                Chain(part, groups, "tip", "normal");
                break;
            case "header" or "power":
                foreach (Joint joint in part.Terminals)
                    groups.Join(joint.Net, CircuitDesign.Ground);
                break;
            case "ribbon":
                for (int i = 0; i + 1 < part.Terminals.Length; i += 2)
                    groups.Join(part.Terminals[i].Net, part.Terminals[i + 1].Net);
                break;
            case "current source" or "charge law" or "matched pair":
                break;
            default:
                Chain(part, groups, [.. part.Terminals.Select(joint => joint.Terminal)]);
                break;
        }
    }

    private static void Chain(Part part, NetGroups groups, params string[] terminals)
    {
        string? last = null;
        foreach (string terminal in terminals)
            if (part.NetAt(terminal) is { } net)
            {
                if (last is not null)
                    groups.Join(last, net);
                last = net;
            }
    }
}
