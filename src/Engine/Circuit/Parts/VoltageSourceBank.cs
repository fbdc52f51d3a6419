using System.Runtime.CompilerServices;
using Consort.Engine.Design;

namespace Consort.Engine.Circuit.Parts;

/// <summary>Ideal voltages from minus to plus, each with its branch current through the source from plus to minus:
/// v(plus) − v(minus) − V(t)·(1 + tempco·(T − 25 °C)) = 0.</summary>
internal sealed class VoltageSourceBank : PartBank, ICornered, IExciting
{
    private readonly int[] plus;
    private readonly int[] minus;
    private readonly int[] branch;
    private readonly int[] plusByBranch;
    private readonly int[] minusByBranch;
    private readonly int[] branchByPlus;
    private readonly int[] branchByMinus;
    private readonly Waveforms waveforms;
    private readonly FormulaTape?[] tapes;
    private readonly int[][] branchByNets;
    private readonly double[] warmth; // the value's factor at the circuit's temperature

    public VoltageSourceBank(IReadOnlyList<Part> parts, Assembly at)
        : base(parts)
    {
        plus = [.. parts.Select(part => at.Net(part, "plus"))];
        minus = [.. parts.Select(part => at.Net(part, "minus"))];
        branch = [.. parts.Select(part => at.Inner(part, "current", UnknownKind.Current))];
        plusByBranch = [.. plus.Zip(branch, at.Slot)];
        minusByBranch = [.. minus.Zip(branch, at.Slot)];
        branchByPlus = [.. branch.Zip(plus, at.Slot)];
        branchByMinus = [.. branch.Zip(minus, at.Slot)];
        waveforms = new(this);
        tapes = [.. parts.Select(part => FormulaTape.Of(part, at))];
        branchByNets = [.. tapes.Select((tape, i) => tape is null ? [] : tape.SlotsOf(branch[i], at))];
        warmth = new double[parts.Count];
    }

    public override void Prepare(double kelvin, int first, int end)
    {
        double[] tempco = Numbers("tempco");
        for (int i = first; i < end; i++)
            warmth[i] = 1 + tempco[i] * (kelvin - Constants.ReferenceTemperature);
    }

    public override void StampConstant(Pass pass, int first, int end)
    {
        for (int i = first; i < end; i++)
        {
            pass.G[plusByBranch[i]] += 1;
            pass.G[minusByBranch[i]] -= 1;
            pass.G[branchByPlus[i]] += 1;
            pass.G[branchByMinus[i]] -= 1;
        }
    }

    /// <inheritdoc/>
    public override bool HangsOnTime(double time) => waveforms.Vary(tapes);

    [MethodImpl(MethodImplOptions.AggressiveOptimization)]
    public override void Stamp(Pass pass, int first, int end)
    {
        for (int i = first; i < end; i++)
        {
            double scale = warmth[i];
            double voltage = waveforms.At(i, pass.Time);
            if (tapes[i] is { } tape)
            {
                voltage += tape.Evaluate(pass.X, pass.Time, pass.Temperature);
                tape.Add(pass.G, branchByNets[i], -scale);
            }
            pass.F[branch[i]] -= voltage * scale;
        }
    }

    /// <inheritdoc/>
    public double NextCorner(double after) => waveforms.NextCorner(after);

    /// <inheritdoc/>
    public void Excite(double[] rightHandSide)
    {
        double[] amplitude = Numbers("small signal");
        for (int i = 0; i < Count; i++)
            rightHandSide[branch[i]] += amplitude[i];
    }
}
