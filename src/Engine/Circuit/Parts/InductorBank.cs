using System.Runtime.CompilerServices;
using Consort.Engine.Design;

namespace Consort.Engine.Circuit.Parts;

/// <summary>
/// Inductors, each with its branch current i from 'from' to 'to': v(from) − v(to) − R·i − d(L·i)/dt = 0. At rest one that
/// starts at a current keeps it. Thermal noise of the winding. Left out: saturation, core loss, coupling, winding
/// capacitance.
/// </summary>
internal sealed class InductorBank : PartBank
{
    private readonly int[] from;
    private readonly int[] to;
    private readonly int[] branch;
    private readonly int[] fromByBranch;
    private readonly int[] toByBranch;
    private readonly int[] branchByFrom;
    private readonly int[] branchByTo;
    private readonly int[] branchByBranch;
    private readonly double[] inductance;

    public InductorBank(IReadOnlyList<Part> parts, Assembly at)
        : base(parts)
    {
        from = [.. parts.Select(part => at.Net(part, "from"))];
        to = [.. parts.Select(part => at.Net(part, "to"))];
        branch = [.. parts.Select(part => at.Inner(part, "current", UnknownKind.Current))];
        fromByBranch = [.. from.Zip(branch, at.Slot)];
        toByBranch = [.. to.Zip(branch, at.Slot)];
        branchByFrom = [.. branch.Zip(from, at.Slot)];
        branchByTo = [.. branch.Zip(to, at.Slot)];
        branchByBranch = [.. branch.Zip(branch, at.Slot)];
        inductance = new double[Count];
    }

    public override void Prepare(double kelvin, int first, int end)
    {
        double[] value = Numbers("value");
        double[] tempco = Numbers("tempco");
        for (int i = first; i < end; i++)
            inductance[i] = value[i] * (1 + tempco[i] * (kelvin - Constants.ReferenceTemperature));
    }

    public override void StampConstant(Pass pass, int first, int end)
    {
        double[] resistance = Numbers("series resistance");
        double[] starts = Numbers("starts at");
        for (int i = first; i < end; i++)
        {
            pass.G[fromByBranch[i]] += 1;
            pass.G[toByBranch[i]] -= 1;
            pass.C[branchByBranch[i]] -= inductance[i];
            if (pass.Regime == Regime.Rest && !double.IsNaN(starts[i]))
            {
                pass.G[branchByBranch[i]] += 1;
                continue;
            }
            pass.G[branchByFrom[i]] += 1;
            pass.G[branchByTo[i]] -= 1;
            pass.G[branchByBranch[i]] -= resistance[i];
        }
    }

    /// <summary>The starting current, the only term that is not linear in the unknowns.</summary>
    [MethodImpl(MethodImplOptions.AggressiveOptimization)]
    public override void Stamp(Pass pass, int first, int end)
    {
        if (pass.Regime != Regime.Rest)
            return;
        double[] starts = Numbers("starts at");
        for (int i = first; i < end; i++)
            if (!double.IsNaN(starts[i]))
                pass.F[branch[i]] -= starts[i];
    }

    public override void Noise(Pass pass, int part, NoiseList into)
    {
        // The winding's noise voltage stands in the branch's own row.
        double resistance = Numbers("series resistance")[part];
        if (resistance > 0)
            into.Add(
                $"{Parts[part].Name} thermal",
                branch[part],
                0,
                4 * Constants.Boltzmann * pass.Temperature * resistance
            );
    }
}
