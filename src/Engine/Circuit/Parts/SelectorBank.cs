using Consort.Engine.Design;

namespace Consort.Engine.Circuit.Parts;

/// <summary>Selector switches: the pole joins the way named by the value (from 1) through the contact resistance and all
/// others through the open resistance. Thermal noise of the closed contact. Left out: bounce, contact capacitance.</summary>
internal sealed class SelectorBank : PartBank
{
    private readonly TwoPole[][] ways;

    public SelectorBank(IReadOnlyList<Part> parts, Assembly at)
        : base(parts) => ways = [.. parts.Select(part => Ways(part, at))];

    public override void StampConstant(Pass pass, int first, int end)
    {
        for (int i = first; i < end; i++)
        for (int way = 0; way < ways[i].Length; way++)
            ways[i][way].Add(pass.G, Conductance(i, way));
    }

    public override void Noise(Pass pass, int part, NoiseList into)
    {
        for (int way = 0; way < ways[part].Length; way++)
            ways[part]
                [way]
                .AddNoise(into, $"{Parts[part].Name} way {way + 1} thermal", pass.Temperature, Conductance(part, way));
    }

    private double Conductance(int i, int way) =>
        Least.Conductance(
            Numbers(way + 1 == (int)Math.Round(Numbers("value")[i]) ? "contact resistance" : "open resistance")[i]
        );

    private static TwoPole[] Ways(Part part, Assembly at)
    {
        int pole = at.Net(part, "pole");
        return
        [
            .. part
                .Terminals.Where(joint => joint.Terminal != "pole")
                .Select(joint => new TwoPole(pole, at.Net(joint.Net), at)),
        ];
    }
}
