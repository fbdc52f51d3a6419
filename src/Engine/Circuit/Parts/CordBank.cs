using Consort.Engine.Design;

namespace Consort.Engine.Circuit.Parts;

/// <summary>Patch cords: length times resistance plus both plugs' contacts in series, half of the capacitance to 0 V at
/// each end. Thermal noise. Left out: inductance (a cord is far shorter than a wavelength), triboelectric noise.</summary>
internal sealed class CordBank : PartBank
{
    private readonly TwoPole[] conductors;
    private readonly int[] fromByFrom;
    private readonly int[] toByTo;

    public CordBank(IReadOnlyList<Part> parts, Assembly at)
        : base(parts)
    {
        conductors = [.. parts.Select(part => new TwoPole(at.Net(part, "from"), at.Net(part, "to"), at))];
        fromByFrom = [.. conductors.Select(conductor => at.Slot(conductor.A, conductor.A))];
        toByTo = [.. conductors.Select(conductor => at.Slot(conductor.B, conductor.B))];
    }

    public override void StampConstant(Pass pass, int first, int end)
    {
        double[] length = Numbers("value");
        double[] capacitance = Numbers("capacitance");
        for (int i = first; i < end; i++)
        {
            conductors[i].Add(pass.G, Conductance(i));
            double half = length[i] * capacitance[i] / 2;
            pass.C[fromByFrom[i]] += half;
            pass.C[toByTo[i]] += half;
        }
    }

    public override void Noise(Pass pass, int part, NoiseList into) =>
        conductors[part].AddNoise(into, $"{Parts[part].Name} thermal", pass.Temperature, Conductance(part));

    private double Conductance(int i) =>
        Least.Conductance(Numbers("value")[i] * Numbers("resistance")[i] + Numbers("contact resistance")[i]);
}
