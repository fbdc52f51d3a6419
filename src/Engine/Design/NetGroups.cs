namespace Consort.Engine.Design;

/// <summary>Nets gathered into groups that hang together (union by representative).</summary>
internal sealed class NetGroups
{
    private readonly Dictionary<string, string> parents = [];

    /// <summary>The net that stands for a net's group.</summary>
    public string Of(string net)
    {
        string root = net;
        while (parents.TryGetValue(root, out string? parent))
            root = parent;
        while (net != root && parents.TryGetValue(net, out string? next))
        {
            parents[net] = root;
            net = next;
        }
        return root;
    }

    /// <summary>Puts two nets into one group; false when they already are.</summary>
    public bool Join(string a, string b)
    {
        string first = Of(a);
        string second = Of(b);
        if (first == second)
            return false;
        parents[first] = second;
        return true;
    }

    /// <summary>True when both are in one group.</summary>
    public bool AreOne(string a, string b) => Of(a) == Of(b);
}
