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
    private readonly double[] gainBandwidth;
    private readonly double[] biasDoublesEvery;
    private readonly double[] biasCurrent;
    private readonly double[] offsetCurrent;
    private readonly double[] inputRangeHigh;
    private readonly double[] inputRangeLow;
    private readonly double[] outputResistance;
    private readonly double[] currentLimit;
    private readonly double[] offset;
    private readonly double[] offsetDrift;
    private readonly double[] supplyCurrent;
    private readonly double[] headroomHigh;
    private readonly double[] headroomLow;
    private readonly double[] gain;
    private readonly double[] commonModeRejection;
    private readonly double[] supplyRejection;
    private readonly double[] slewRate;
    private readonly double[] secondPole;
    private readonly double[] inputResistance;
    private readonly double[] inputCapacitance;
    private readonly double[] voltageNoise;
    private readonly double[] currentNoise;
    private readonly double[] voltageNoiseCorner;

    public OpAmpBank(IReadOnlyList<Part> parts, Assembly at)
        : base(parts)
    {
        nodes = [.. parts.Select(part => new OpAmpNodes(part, at))];
        laws = new OpAmpLaw[Count];
        last = new double[Count];
        gainBandwidth = Numbers("gain-bandwidth");
        biasDoublesEvery = Numbers("bias doubles every");
        biasCurrent = Numbers("bias current");
        offsetCurrent = Numbers("offset current");
        inputRangeHigh = Numbers("input range high");
        inputRangeLow = Numbers("input range low");
        outputResistance = Numbers("output resistance");
        currentLimit = Numbers("current limit");
        offset = Numbers("offset");
        offsetDrift = Numbers("offset drift");
        supplyCurrent = Numbers("supply current");
        headroomHigh = Numbers("headroom high");
        headroomLow = Numbers("headroom low");
        gain = Numbers("gain");
        commonModeRejection = Numbers("common-mode rejection");
        supplyRejection = Numbers("supply rejection");
        slewRate = Numbers("slew rate");
        secondPole = Numbers("second pole");
        inputResistance = Numbers("input resistance");
        inputCapacitance = Numbers("input capacitance");
        voltageNoise = Numbers("voltage noise");
        currentNoise = Numbers("current noise");
        voltageNoiseCorner = Numbers("voltage noise corner");
        Forget();
    }

    public override void Prepare(double kelvin, int first, int end)
    {
        for (int i = first; i < end; i++)
        {
            double warmer = kelvin - Constants.ReferenceTemperature;
            double timeConstant = 1 / (2 * Math.PI * gainBandwidth[i]);
            double doubling = Junction.Doubling(kelvin, biasDoublesEvery[i]);
            double bias = biasCurrent[i] * doubling;
            double halfOffset = offsetCurrent[i] * doubling / 2;
            laws[i] = new()
            {
                Range = new(inputRangeHigh[i], inputRangeLow[i]),
                Output = LimitedOutput.From(outputResistance[i], currentLimit[i]),
                Offset = offset[i] + offsetDrift[i] * warmer,
                PlusBias = bias + halfOffset,
                MinusBias = bias - halfOffset,
                SupplyCurrent = supplyCurrent[i],
                HeadroomHigh = headroomHigh[i],
                HeadroomLow = headroomLow[i],
                PerGain = 1 / gain[i],
                PerRejection = 1 / commonModeRejection[i],
                PerSupplyRejection = 1 / supplyRejection[i],
                LargestDrive = slewRate[i] * timeConstant,
                TimeConstant = timeConstant,
                SecondTimeConstant = 1 / (2 * Math.PI * secondPole[i]),
                InputConductance = Least.Conductance(inputResistance[i]),
                InputCapacitance = inputCapacitance[i],
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
            if (pass.WantsSlopes)
            {
                g[n.UP] -= slope * e.ByPlus;
                g[n.UM] -= slope * e.ByMinus;
                g[n.UPositive] -= slope * e.ByPositive;
                g[n.UNegative] -= slope * e.ByNegative;
                g[n.UU] -= slope * e.ByState;
            }
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
        double voltage = voltageNoise[part];
        double current = currentNoise[part];
        into.Add($"{name} voltage noise", n.State, 0, voltage * voltage, voltageNoiseCorner[part]);
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
