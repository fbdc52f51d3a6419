using Consort.Engine.Circuit.Wiring;
using Consort.Engine.Design;

namespace Consort.Engine.Circuit.Parts;

/// <summary>
/// Flat cables between two lists of nets: copper by gauge (<see cref="Copper"/>) and both contacts in series in every
/// wire; half of the capacitance to 0 V and of the coupling between neighbouring wires at each end. Thermal noise. Left
/// out: inductance, and coupling beyond the next wire.
/// </summary>
internal sealed class RibbonBank : PartBank
{
    private readonly TwoPole[][] wires;
    private readonly TwoPole[][] ends;
    private readonly TwoPole[][] couplings;
    private readonly double[] conductance;

    public RibbonBank(IReadOnlyList<Part> parts, Assembly at)
        : base(parts)
    {
        wires = [.. parts.Select(part => Wires(part, at))];
        ends = [.. wires.Select(list => Ends(list, at))];
        couplings = [.. wires.Select(list => Couplings(list, at))];
        conductance = new double[Count];
    }

    public override void Prepare(double kelvin, int first, int end)
    {
        for (int i = first; i < end; i++)
        {
            double warmth = 1 + Copper.PerKelvin * (kelvin - Copper.ReferenceTemperature);
            double copper = Copper.OhmsPerMetre(Numbers("gauge")[i]) * Numbers("value")[i] * warmth;
            conductance[i] = Least.Conductance(copper + Numbers("contact resistance")[i]);
        }
    }

    public override void StampConstant(Pass pass, int first, int end)
    {
        for (int i = first; i < end; i++)
        {
            double half = Numbers("value")[i] / 2;
            foreach (TwoPole wire in wires[i])
                wire.Add(pass.G, conductance[i]);
            foreach (TwoPole wireEnd in ends[i])
                wireEnd.Add(pass.C, half * Numbers("capacitance")[i]);
            foreach (TwoPole coupling in couplings[i])
                coupling.Add(pass.C, half * Numbers("coupling")[i]);
        }
    }

    public override void Noise(Pass pass, int part, NoiseList into)
    {
        for (int wire = 0; wire < wires[part].Length; wire++)
            wires[part]
                [wire]
                .AddNoise(into, $"{Parts[part].Name} wire {wire + 1} thermal", pass.Temperature, conductance[part]);
    }

    private static TwoPole[] Wires(Part part, Assembly at)
    {
        Joint[] joints = [.. part.Terminals];
        TwoPole[] list = new TwoPole[joints.Length / 2];
        for (int wire = 0; wire < list.Length; wire++)
            list[wire] = new(at.Net(part, $"wire {wire + 1} from"), at.Net(part, $"wire {wire + 1} to"), at);
        return list;
    }

    private static TwoPole[] Ends(TwoPole[] wires, Assembly at) =>
        [.. wires.SelectMany(wire => (TwoPole[])[new(wire.A, 0, at), new(wire.B, 0, at)])];

    private static TwoPole[] Couplings(TwoPole[] wires, Assembly at) =>
        [
            .. wires
                .Zip(wires.Skip(1))
                .SelectMany(pair =>
                    (TwoPole[])[new(pair.First.A, pair.Second.A, at), new(pair.First.B, pair.Second.B, at)]
                ),
        ];
}
