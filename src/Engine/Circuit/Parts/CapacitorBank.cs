using System.Runtime.CompilerServices;
using Consort.Engine.Design;

namespace Consort.Engine.Circuit.Parts;

/// <summary>
/// Capacitors: q = C·v, C = value·(1 + tempco·(T − 25 °C)), insulation resistance across the plates, series resistance in
/// front of them (an inner node, where it is above zero). One that starts at a voltage is held there at rest by a branch
/// current, which is zero in motion. Thermal noise of both resistances. Left out: dielectric absorption, change of the
/// capacitance with voltage.
/// </summary>
internal sealed class CapacitorBank : PartBank
{
    private readonly int[] from;
    private readonly int[] to;
    private readonly int[] plate;
    private readonly int[] hold;
    private readonly int[] held;
    private readonly Quad[] series;
    private readonly Quad[] plates;
    private readonly int[] plateByHold;
    private readonly int[] toByHold;
    private readonly int[] holdByPlate;
    private readonly int[] holdByTo;
    private readonly int[] holdByHold;
    private readonly double[] capacitance;
    private readonly double[] leakage;
    private readonly double[] seriesConductance;

    public CapacitorBank(IReadOnlyList<Part> parts, Assembly at)
        : base(parts)
    {
        from = [.. parts.Select(part => at.Net(part, "from"))];
        to = [.. parts.Select(part => at.Net(part, "to"))];
        plate = [.. parts.Select((part, i) => InnerPlate(part, i, at))];
        hold = [.. parts.Select(part => HoldingBranch(part, at))];
        held = [.. Enumerable.Range(0, Count).Where(i => hold[i] > 0)];
        series = [.. from.Zip(plate, (a, b) => a == b ? default : at.Quad(a, b))];
        plates = [.. plate.Zip(to, at.Quad)];
        plateByHold = [.. plate.Zip(hold, at.Slot)];
        toByHold = [.. to.Zip(hold, at.Slot)];
        holdByPlate = [.. hold.Zip(plate, at.Slot)];
        holdByTo = [.. hold.Zip(to, at.Slot)];
        holdByHold = [.. hold.Zip(hold, at.Slot)];
        capacitance = new double[Count];
        leakage = new double[Count];
        seriesConductance = new double[Count];
    }

    public override void Prepare(double kelvin, int first, int end)
    {
        double[] value = Numbers("value");
        double[] tempco = Numbers("tempco");
        double[] insulation = Numbers("leakage");
        double[] inSeries = Numbers("series resistance");
        for (int i = first; i < end; i++)
        {
            capacitance[i] = value[i] * (1 + tempco[i] * (kelvin - Constants.ReferenceTemperature));
            leakage[i] = Least.Conductance(insulation[i]);
            seriesConductance[i] = Least.Conductance(inSeries[i]);
        }
    }

    public override void StampConstant(Pass pass, int first, int end)
    {
        for (int i = first; i < end; i++)
        {
            if (plate[i] != from[i])
                series[i].Add(pass.G, seriesConductance[i]);
            plates[i].Add(pass.C, capacitance[i]);
            plates[i].Add(pass.G, leakage[i]);
            if (hold[i] > 0)
                StampHold(pass, i);
        }
    }

    /// <summary>The starting voltage, the only term that is not linear in the unknowns.</summary>
    [MethodImpl(MethodImplOptions.AggressiveOptimization)]
    public override void Stamp(Pass pass, int first, int end)
    {
        if (pass.Regime != Regime.Rest)
            return;
        double[] starts = Numbers("starts at");
        foreach (int i in held)
            if (i >= first && i < end)
                pass.F[hold[i]] -= starts[i];
    }

    public override void Noise(Pass pass, int part, NoiseList into)
    {
        double fourKT = 4 * Constants.Boltzmann * pass.Temperature;
        if (leakage[part] > 0)
            into.Add($"{Parts[part].Name} leakage", plate[part], to[part], fourKT * leakage[part]);
        if (plate[part] != from[part])
            into.Add($"{Parts[part].Name} thermal", from[part], plate[part], fourKT * seriesConductance[part]);
    }

    private void StampHold(Pass pass, int i)
    {
        pass.G[plateByHold[i]] += 1;
        pass.G[toByHold[i]] -= 1;
        if (pass.Regime == Regime.Motion)
        {
            pass.G[holdByHold[i]] += 1;
            return;
        }
        pass.G[holdByPlate[i]] += 1;
        pass.G[holdByTo[i]] -= 1;
    }

    private int InnerPlate(Part part, int i, Assembly at) =>
        part.Number("series resistance") > 0 ? at.Inner(part, "plate", UnknownKind.Voltage) : from[i];

    private static int HoldingBranch(Part part, Assembly at) =>
        double.IsNaN(part.Number("starts at")) ? 0 : at.Inner(part, "holding current", UnknownKind.Current);
}
