using Consort.Engine.Design;

namespace Consort.Engine.Circuit.Parts;

/// <summary>Parts that carry no current by themselves: headers and supply connectors (a voice turns them into wiring) and
/// matched pairs (their members carry the pair's numbers). They are here so that their nets exist and they can be
/// found.</summary>
internal sealed class IdleBank : PartBank
{
    public IdleBank(IReadOnlyList<Part> parts, Assembly at)
        : base(parts)
    {
        foreach (Part part in parts)
        foreach (Joint joint in part.Terminals)
            at.Net(joint.Net);
    }
}
