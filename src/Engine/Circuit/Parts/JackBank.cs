using Consort.Engine.Design;

namespace Consort.Engine.Circuit.Parts;

/// <summary>Jacks of one module by itself, with nothing plugged in: the normal feeds the tip through the contact
/// resistance. A voice turns jacks into its own wiring.</summary>
internal sealed class JackBank : PartBank
{
    private readonly TwoPole[] normals;

    public JackBank(IReadOnlyList<Part> parts, Assembly at)
        : base(parts) =>
        normals = [
            .. parts.Select(part =>
                part.NetAt("normal") is null ? default : new TwoPole(at.Net(part, "normal"), at.Net(part, "tip"), at)
            ),
        ];

    public override void StampConstant(Pass pass, int first, int end)
    {
        double[] contact = Numbers("contact resistance");
        for (int i = first; i < end; i++)
            if (normals[i].IsThere)
                normals[i].Add(pass.G, Least.Conductance(contact[i]));
    }

    public override void Noise(Pass pass, int part, NoiseList into) =>
        normals[part]
            .AddNoise(
                into,
                $"{Parts[part].Name} thermal",
                pass.Temperature,
                Least.Conductance(Numbers("contact resistance")[part])
            );
}
