using System.Runtime.CompilerServices;
using Consort.Engine.Design;

namespace Consort.Engine.Circuit.Parts;

/// <summary>
/// Op amps as one-pole macromodels (idea: Boyle, Cohn, Pederson, Solomon, IEEE JSSC SC-9 (1974) 353; Franco, Design with
/// Operational Amplifiers and Analog ICs, ch. 5 and 6): inner state u, the unloaded output, driven by
/// <see cref="OpAmpLaw.Evaluate"/>; an optional second pole; swing limits from the voltages at the supply pins; an output
/// resistance with a current limit, whose current is taken from the supply pin that gives it. The state's row is written
/// at the input (volts), so that all its entries are near one. Noise: input voltage (with a 1/f corner) and current.
/// Left out: zeros and poles past the second, unequal slew rates, phase reversal, crossover distortion, thermal
/// feedback, input protection diodes; beyond its range an input passes on a thousandth of its movement.
/// </summary>
internal sealed class OpAmpBank : PartBank
{
    private readonly OpAmpNodes[] nodes;
    private readonly OpAmpLaw[] laws;
    private readonly double[] last;

    public OpAmpBank(IReadOnlyList<Part> parts, Assembly at)
        : base(parts)
    {
        nodes = [.. parts.Select(part => new OpAmpNodes(part, at))];
        laws = new OpAmpLaw[Count];
        last = new double[Count];
        Forget();
    }

    public override void Prepare(double kelvin, int first, int end)
    {
        for (int i = first; i < end; i++)
        {
            double warmer = kelvin - Constants.ReferenceTemperature;
            double timeConstant = 1 / (2 * Math.PI * Numbers("gain-bandwidth")[i]);
            double doubling = Junction.Doubling(kelvin, Numbers("bias doubles every")[i]);
            double bias = Numbers("bias current")[i] * doubling;
            double halfOffset = Numbers("offset current")[i] * doubling / 2;
            laws[i] = new()
            {
                Range = new(Numbers("input range high")[i], Numbers("input range low")[i]),
                Output = LimitedOutput.From(Numbers("output resistance")[i], Numbers("current limit")[i]),
                Offset = Numbers("offset")[i] + Numbers("offset drift")[i] * warmer,
                PlusBias = bias + halfOffset,
                MinusBias = bias - halfOffset,
                SupplyCurrent = Numbers("supply current")[i],
                HeadroomHigh = Numbers("headroom high")[i],
                HeadroomLow = Numbers("headroom low")[i],
                PerGain = 1 / Numbers("gain")[i],
                PerRejection = 1 / Numbers("common-mode rejection")[i],
                PerSupplyRejection = 1 / Numbers("supply rejection")[i],
                LargestDrive = Numbers("slew rate")[i] * timeConstant,
                TimeConstant = timeConstant,
                SecondTimeConstant = 1 / (2 * Math.PI * Numbers("second pole")[i]),
                InputConductance = Least.Conductance(Numbers("input resistance")[i]),
                InputCapacitance = Numbers("input capacitance")[i],
            };
        }
    }

    public override void StampConstant(Pass pass, int first, int end)
    {
        for (int i = first; i < end; i++)
        {
            ref readonly OpAmpNodes n = ref nodes[i];
            ref readonly OpAmpLaw law = ref laws[i];
            n.Input.Add(pass.G, law.InputConductance);
            n.Input.Add(pass.C, law.InputCapacitance);
            pass.C[n.UU] += law.TimeConstant;
            if (n.Late == n.State)
                continue;
            pass.G[n.LL] += 1;
            pass.G[n.LU] -= 1;
            pass.C[n.LL] += law.SecondTimeConstant;
        }
    }

    [MethodImpl(MethodImplOptions.AggressiveOptimization)]
    public override void Stamp(Pass pass, int first, int end)
    {
        double[] x = pass.X;
        double[] f = pass.F;
        double[] g = pass.G;
        bool moves = pass.Regime == Regime.Motion;
        double softness = OpAmpLaw.Softness * pass.Gmin;
        OpAmpLaw.Drive e = default;
        for (int i = first; i < end; i++)
        {
            ref readonly OpAmpNodes n = ref nodes[i];
            ref readonly OpAmpLaw law = ref laws[i];
            double positive = x[n.Positive];
            double negative = x[n.Negative];
            law.Evaluate(x[n.Plus], x[n.Minus], positive, negative, x[n.State], softness, ref e);
            double drive = e.Value;
            double slope = 1;
            if (moves && law.LargestDrive < double.PositiveInfinity)
                drive = law.LargestDrive * Smooth.Tanh(e.Value / law.LargestDrive, out slope);
            f[n.State] -= drive;
            g[n.UP] -= slope * e.ByPlus;
            g[n.UM] -= slope * e.ByMinus;
            g[n.UPositive] -= slope * e.ByPositive;
            g[n.UNegative] -= slope * e.ByNegative;
            g[n.UU] -= slope * e.ByState;

            StampBias(f, in n, law.PlusBias, law.MinusBias);
            double across = x[n.Late] - x[n.Out];
            double held = pass.Limiting ? law.Output.Hold(across, ref last[i], ref pass.Limited) : across;
            double current = law.Output.Current(held, out double conductance);
            current += conductance * (across - held);
            n.Supply.AddOutput(f, g, current, conductance);
            n.Supply.AddQuiescent(f, g, law.SupplyCurrent, positive - negative);
        }
    }

    public override void Forget() => Array.Fill(last, double.NaN);

    public override void Noise(Pass pass, int part, NoiseList into)
    {
        ref readonly OpAmpNodes n = ref nodes[part];
        string name = Parts[part].Name;
        double voltage = Numbers("voltage noise")[part];
        double current = Numbers("current noise")[part];
        into.Add($"{name} voltage noise", n.State, 0, voltage * voltage, Numbers("voltage noise corner")[part]);
        into.Add($"{name} plus current noise", n.Plus, 0, current * current);
        into.Add($"{name} minus current noise", n.Minus, 0, current * current);
    }

    /// <summary>Bias currents enter the inputs and leave through the negative supply.</summary>
    private static void StampBias(double[] f, in OpAmpNodes n, double plus, double minus)
    {
        f[n.Plus] += plus;
        f[n.Minus] += minus;
        f[n.Negative] -= plus + minus;
    }
}
