using Consort.Engine.Design;

namespace Consort.Engine.Circuit.Parts;

/// <summary>Resistors: i = v/R, R = value·(1 + tempco·(T − 25 °C)); thermal noise 4kT/R.</summary>
internal sealed class ResistorBank : PartBank
{
    private readonly Quad[] quads;
    private readonly int[] from;
    private readonly int[] to;
    private readonly double[] conductance;

    public ResistorBank(IReadOnlyList<Part> parts, Assembly at)
        : base(parts)
    {
        from = [.. parts.Select(part => at.Net(part, "from"))];
        to = [.. parts.Select(part => at.Net(part, "to"))];
        quads = [.. from.Zip(to, at.Quad)];
        conductance = new double[parts.Count];
    }

    public override void Prepare(double kelvin, int first, int end)
    {
        double[] value = Numbers("value");
        double[] tempco = Numbers("tempco");
        for (int i = first; i < end; i++)
            conductance[i] = 1 / (value[i] * (1 + tempco[i] * (kelvin - Constants.ReferenceTemperature)));
    }

    public override void StampConstant(Pass pass, int first, int end)
    {
        for (int i = first; i < end; i++)
            quads[i].Add(pass.G, conductance[i]);
    }

    public override void Noise(Pass pass, int part, NoiseList into) =>
        into.Add(
            $"{Parts[part].Name} thermal",
            from[part],
            to[part],
            4 * Constants.Boltzmann * pass.Temperature * conductance[part]
        );
}
