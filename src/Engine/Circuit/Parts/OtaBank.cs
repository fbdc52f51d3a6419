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

    /// <summary>A current and its derivatives by the bias pin's voltage, the difference of the inputs (both of which the
    /// negative supply or the other input takes back) and the voltages of output and supplies themselves.</summary>
    private struct Flow
    {
        public double Current,
            ByBias,
            ByInput,
            ByOut,
            ByPositive,
            ByNegative;
    }

    private struct Law
    {
        public double PerVt,
            Offset,
            Excess,
            PerGain,
            Conductance,
            High,
            Low;
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

    [MethodImpl(MethodImplOptions.AggressiveOptimization)]
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
        double bias = laws[part]
            .Bias.Current(pass.X[nodes[first + Bias]] - pass.X[nodes[first + Negative]], out _, out _, out _);
        if (voltage <= 0 || bias <= 0)
            return;
        // Shot noise of the pair referred to its input falls with the bias current: en² = en²(1 mA)·1 mA/Ib.
        double gm = bias * laws[part].Excess * 0.5 * laws[part].PerVt;
        double white = gm * gm * voltage * voltage * NoiseBias / bias;
        into.Add($"{Parts[part].Name} input noise", nodes[first + Out], 0, white);
    }

    /// <summary>The unknowns between which a part's bias junctions lie.</summary>
    public (int Bias, int Negative) BiasNodes(int part) => (nodes[part * Nodes + Bias], nodes[part * Nodes + Negative]);

    /// <summary>Bias current at a voltage across those junctions, A, their saturation current, A, and n·VT, V.</summary>
    public (double Current, double Saturation, double Slope) BiasAt(int part, double volts)
    {
        double current = laws[part].Bias.Current(volts, out double g, out _, out _);
        double saturation = -laws[part].Bias.Current(-100, out _, out _, out _);
        return (current, saturation, (current + saturation) / g);
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

        // The halves (1 ± tanh(v/2VT))/2 as 1/(1 + exp(∓v/VT)): the lesser one without a difference.
        double z = (x[n[Plus]] - x[n[Minus]] + law.Offset) * law.PerVt;
        double e = Math.Exp(-Math.Abs(z));
        double larger = 1 / (1 + e);
        double smaller = e * larger;
        double tilt = bias * larger * smaller * law.PerVt;
        double up = z > 0 ? larger : smaller;
        double down = z > 0 ? smaller : larger;

        double high = law.Excess * Fade(x[n[Positive]] - law.High - x[n[Out]], out double highSlope);
        double low = law.Excess * Fade(x[n[Out]] - x[n[Negative]] - law.Low, out double lowSlope);
        highSlope *= law.Excess * bias * up;
        lowSlope *= law.Excess * bias * down;
        double leak = law.Conductance * law.Excess;
        double over = x[n[Out]] - 0.5 * (x[n[Positive]] + x[n[Negative]]);

        Flow source = new()
        {
            Current = bias * up * high,
            ByBias = g * up * high,
            ByInput = tilt * high,
            ByOut = -highSlope,
            ByPositive = highSlope,
        };
        Flow sink = new()
        {
            Current = bias * down * low,
            ByBias = g * down * low,
            ByInput = -tilt * low,
            ByOut = lowSlope,
            ByNegative = -lowSlope,
        };
        Flow stray = new()
        {
            Current = leak * bias * over,
            ByBias = leak * g * over,
            ByOut = leak * bias,
            ByPositive = -0.5 * leak * bias,
            ByNegative = -0.5 * leak * bias,
        };
        // The tail, and the half that is mirrored twice.
        Flow inside = new()
        {
            Current = bias * (1 + law.Excess * down),
            ByBias = g * (1 + law.Excess * down),
            ByInput = -law.Excess * tilt,
        };

        Flow total = default;
        Add(pass, i, Bias, new() { Current = bias, ByBias = g }, ref total);
        Add(
            pass,
            i,
            Plus,
            new()
            {
                Current = bias * up * law.PerGain,
                ByBias = g * up * law.PerGain,
                ByInput = tilt * law.PerGain,
            },
            ref total
        );
        Add(
            pass,
            i,
            Minus,
            new()
            {
                Current = bias * down * law.PerGain,
                ByBias = g * down * law.PerGain,
                ByInput = -tilt * law.PerGain,
            },
            ref total
        );
        Add(pass, i, Out, Sum(in sink, 1, in stray, 1, in source, -1), ref total);
        Add(pass, i, Positive, Sum(in inside, 1, in source, 1, in stray, -0.5), ref total);
        Flow none = default;
        Add(pass, i, Negative, Sum(in total, -1, in none, 0, in none, 0), ref none);
    }

    /// <summary>Adds what flows into a terminal to its row, and to the total.</summary>
    private void Add(Pass pass, int i, int terminal, Flow flow, ref Flow total)
    {
        pass.F[nodes[i * Nodes + terminal]] += flow.Current;
        ReadOnlySpan<int> row = slots.AsSpan((i * Nodes + terminal) * Nodes, Nodes);
        double[] g = pass.G;
        g[row[Plus]] += flow.ByInput;
        g[row[Minus]] -= flow.ByInput;
        g[row[Out]] += flow.ByOut;
        g[row[Bias]] += flow.ByBias;
        g[row[Positive]] += flow.ByPositive;
        g[row[Negative]] += flow.ByNegative - flow.ByBias;
        total.Current += flow.Current;
        total.ByBias += flow.ByBias;
        total.ByInput += flow.ByInput;
        total.ByOut += flow.ByOut;
        total.ByPositive += flow.ByPositive;
        total.ByNegative += flow.ByNegative;
    }

    private static Flow Sum(
        ref readonly Flow a,
        double timesA,
        ref readonly Flow b,
        double timesB,
        ref readonly Flow c,
        double timesC
    ) =>
        new()
        {
            Current = timesA * a.Current + timesB * b.Current + timesC * c.Current,
            ByBias = timesA * a.ByBias + timesB * b.ByBias + timesC * c.ByBias,
            ByInput = timesA * a.ByInput + timesB * b.ByInput + timesC * c.ByInput,
            ByOut = timesA * a.ByOut + timesB * b.ByOut + timesC * c.ByOut,
            ByPositive = timesA * a.ByPositive + timesB * b.ByPositive + timesC * c.ByPositive,
            ByNegative = timesA * a.ByNegative + timesB * b.ByNegative + timesC * c.ByNegative,
        };

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
}
