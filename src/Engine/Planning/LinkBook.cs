using System.Collections.Frozen;
using Consort.Engine.Design;

namespace Consort.Engine.Planning;

/// <summary>Which inputs links hand on, looked up in the circuits once for each two modules.</summary>
public sealed class LinkBook(Supply supply)
{
    private readonly Dictionary<(Module, Module), FrozenSet<string>> known = [];

    /// <summary>Labels of the lead's inputs that its link carries to the follower.</summary>
    public FrozenSet<string> Of(Module lead, Module follower)
    {
        if (!known.TryGetValue((lead, follower), out FrozenSet<string>? labels))
            known.Add((lead, follower), labels = LinkReach.Of(supply, lead, follower));
        return labels;
    }
}
