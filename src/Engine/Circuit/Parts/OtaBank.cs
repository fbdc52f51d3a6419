using System.Runtime.CompilerServices;
using Consort.Engine.Design;

namespace Consort.Engine.Circuit.Parts;

/// <summary>
/// Operational transconductance amplifiers: a differential pair I = Ib·tanh(v/2VT) (Gray, Hurst, Lewis, Meyer ch. 3)
/// whose two halves are mirrored to the output, one from the positive and one into the negative supply; either dies away
/// when the output comes within its headroom. The bias pin is a chain of junctions (1e-15 A at 25 °C, chosen so that one
/// drops 0.71 V at 1 mA) to the negative supply. Currents are taken from the supplies as in the circuit of mirrors: the
/// tail and both halves. Noise: the input's, which falls as the bias grows. Left out: linearising diodes, buffers, delay of
/// the mirrors, input range.
/// </summary>
internal sealed class OtaBank : PartBank
{
    private const double BiasSaturation = 1e-15;
    private const double Gap = 1.11;
    private const double Exponent = 3;
    private const double FadeWidth = 0.025;
    private const double NoiseBias = 1e-3;
    private const int Nodes = 6;
    private const int Plus = 0;
    private const int Minus = 1;
    private const int Out = 2;
    private const int Bias = 3;
    private const int Positive = 4;
    private const int Negative = 5;

    private static readonly string[] Terminals = ["plus", "minus", "out", "bias", "supply +", "supply -"];

    [InlineArray(Nodes)]
    private struct Gradient
    {
        private double first;
    }

    private struct Law
    {
        public double PerVt, Offset, Excess, PerGain, Conductance, High, Low;
        public DiodeLaw Bias;
    }

    private readonly int[] nodes;
    private readonly int[] slots;
    private readonly Law[] laws;
    private readonly double[] last;

    public OtaBank(IReadOnlyList<Part> parts, Assembly at)
        : base(parts)
    {
        nodes = [.. parts.SelectMany(part => Terminals.Select(terminal => at.Net(part, terminal)))];
        slots = new int[Count * Nodes * Nodes];
        for (int i = 0; i < slots.Length; i++)
        {
            int part = i / (Nodes * Nodes);
            slots[i] = at.Slot(nodes[i / Nodes], nodes[part * Nodes + i % Nodes]);
        }
        laws = new Law[Count];
        last = new double[Count];
        Forget();
    }

    public override void Prepare(double kelvin, int first, int end)
    {
        double vt = Constants.ThermalVoltage(kelvin);
        double growth = Junction.Growth(kelvin, Constants.ReferenceTemperature, Gap, Exponent);
        for (int i = first; i < end; i++)
            laws[i] = new()
            {
                PerVt = 1 / vt,
                Offset = Numbers("offset")[i],
                Excess = 1 + Numbers("mirror error")[i],
                PerGain = 1 / Numbers("input gain")[i],
                Conductance = Numbers("output conductance")[i],
                High = Numbers("headroom high")[i],
                Low = Numbers("headroom low")[i],
                Bias = DiodeLaw.Forward(BiasSaturation * growth, Numbers("bias junctions")[i] * vt),
            };
    }

    public override void StampConstant(Pass pass, int first, int end)
    {
        double[] capacitance = Numbers("output capacitance");
        for (int i = first; i < end; i++)
            pass.C[slots[i * Nodes * Nodes + Out * Nodes + Out]] += capacitance[i];
    }

    public override void Stamp(Pass pass, int first, int end)
    {
        for (int i = first; i < end; i++)
            StampOne(pass, i, in laws[i]);
    }

    public override void Forget() => Array.Fill(last, double.NaN);

    public override void Noise(Pass pass, int part, NoiseList into)
    {
        double voltage = Numbers("voltage noise")[part];
        int first = part * Nodes;
        double bias = laws[part].Bias.Current(pass.X[nodes[first + Bias]] - pass.X[nodes[first + Negative]], out _, out _, out _);
        if (voltage <= 0 || bias <= 0)
            return;
        // Shot noise of the pair referred to its input falls with the bias current: en² = en²(1 mA)·1 mA/Ib.
        double gm = bias * laws[part].Excess * 0.5 * laws[part].PerVt;
        double white = gm * gm * voltage * voltage * NoiseBias / bias;
        into.Add($"{Parts[part].Name} input noise", nodes[first + Out], 0, white);
    }

    private void StampOne(Pass pass, int i, ref readonly Law law)
    {
        double[] x = pass.X;
        ReadOnlySpan<int> n = nodes.AsSpan(i * Nodes, Nodes);
        double v = x[n[Bias]] - x[n[Negative]];
        double at = pass.Limiting ? law.Bias.Limit(v, ref last[i], ref pass.Limited) : v;
        double bias = law.Bias.Current(at, out double g, out _, out _);
        g += pass.Gmin;
        bias += pass.Gmin * at + g * (v - at);
        Gradient byBias = default;
        byBias[Bias] = g;
        byBias[Negative] = -g;
        Flow(pass, i, Bias, Negative, bias, byBias);

        // The halves (1 ± tanh(v/2VT))/2 as 1/(1 + exp(∓v/VT)): the lesser one without a difference.
        double z = (x[n[Plus]] - x[n[Minus]] + law.Offset * pass.SourceScale) * law.PerVt;
        double e = Math.Exp(-Math.Abs(z));
        double larger = 1 / (1 + e);
        double smaller = e * larger;
        double slope = larger * smaller * law.PerVt;
        Half(bias, z > 0 ? larger : smaller, slope, byBias, out double up, out Gradient byUp);
        Half(bias, z > 0 ? smaller : larger, -slope, byBias, out double down, out Gradient byDown);
        Flow(pass, i, Plus, Negative, up * law.PerGain, Times(byUp, law.PerGain));
        Flow(pass, i, Minus, Negative, down * law.PerGain, Times(byDown, law.PerGain));
        // The tail, and the half that is mirrored twice.
        Flow(pass, i, Positive, Negative, bias, byBias);
        Flow(pass, i, Positive, Negative, down * law.Excess, Times(byDown, law.Excess));

        double high = Fade(x[n[Positive]] - law.High - x[n[Out]], out double highSlope);
        Gradient bySource = Times(byUp, law.Excess * high);
        bySource[Positive] += up * law.Excess * highSlope;
        bySource[Out] -= up * law.Excess * highSlope;
        Flow(pass, i, Positive, Out, up * law.Excess * high, bySource);

        double low = Fade(x[n[Out]] - x[n[Negative]] - law.Low, out double lowSlope);
        Gradient bySink = Times(byDown, law.Excess * low);
        bySink[Out] += down * law.Excess * lowSlope;
        bySink[Negative] -= down * law.Excess * lowSlope;
        Flow(pass, i, Out, Negative, down * law.Excess * low, bySink);
        if (law.Conductance > 0)
            StampConductance(pass, i, law.Conductance * law.Excess / 2, bias, byBias, n);
    }

    /// <summary>Output conductance against the middle of the supplies, half to either.</summary>
    private void StampConductance(Pass pass, int i, double half, double bias, Gradient byBias, ReadOnlySpan<int> n)
    {
        double over = pass.X[n[Out]] - 0.5 * (pass.X[n[Positive]] + pass.X[n[Negative]]);
        Gradient by = Times(byBias, half * over);
        by[Out] += half * bias;
        by[Positive] -= 0.5 * half * bias;
        by[Negative] -= 0.5 * half * bias;
        Flow(pass, i, Out, Positive, half * bias * over, by);
        Flow(pass, i, Out, Negative, half * bias * over, by);
    }

    private static void Half(double bias, double share, double slope, Gradient byBias, out double half, out Gradient by)
    {
        half = bias * share;
        by = Times(byBias, share);
        by[Plus] += bias * slope;
        by[Minus] -= bias * slope;
    }

    /// <summary>1 − exp(−v/w), its tangent below zero: a mirror that runs out of voltage, and then turns into a path back.</summary>
    private static double Fade(double v, out double slope)
    {
        if (v <= 0)
        {
            slope = 1 / FadeWidth;
            return v / FadeWidth;
        }
        double e = Math.Exp(-v / FadeWidth);
        slope = e / FadeWidth;
        return 1 - e;
    }

    private static Gradient Times(Gradient by, double factor)
    {
        Gradient result = by;
        for (int k = 0; k < Nodes; k++)
            result[k] *= factor;
        return result;
    }

    /// <summary>Adds a current from one node to another with its gradient.</summary>
    private void Flow(Pass pass, int i, int from, int to, double current, Gradient by)
    {
        pass.F[nodes[i * Nodes + from]] += current;
        pass.F[nodes[i * Nodes + to]] -= current;
        int fromRow = (i * Nodes + from) * Nodes;
        int toRow = (i * Nodes + to) * Nodes;
        for (int k = 0; k < Nodes; k++)
        {
            pass.G[slots[fromRow + k]] += by[k];
            pass.G[slots[toRow + k]] -= by[k];
        }
    }
}
