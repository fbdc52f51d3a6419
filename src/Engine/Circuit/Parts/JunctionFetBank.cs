using System.Runtime.CompilerServices;
using Consort.Engine.Design;

namespace Consort.Engine.Circuit.Parts;

/// <summary>
/// Junction field-effect transistors of both channels, the same forwards and backwards: <see cref="ChannelLaw"/>, two gate
/// junctions with depletion charge, drain and source resistance, a drain-gate leakage that doubles every 10 K. Threshold
/// moves in a straight line with temperature, transconductance by a power of it. Thermal noise of channel and resistances,
/// shot noise of the gate. Massobrio and Antognetti ch. 3. Left out: conduction below the threshold, gate breakdown, 1/f
/// noise.
/// </summary>
internal sealed class JunctionFetBank : PartBank
{
    private const double Gap = 1.11;
    private const double Exponent = 3;
    private const double DepletionLimit = 0.5;

    private struct Law
    {
        public double Sign,
            Threshold,
            Beta,
            Lambda,
            Leak;
        public DiodeLaw Gate;
        public Depletion Source,
            Drain;
        public bool Stores;
    }

    private readonly FetNodes[] nodes;
    private readonly Law[] laws;
    private readonly double[] lastSource;
    private readonly double[] lastDrain;

    public JunctionFetBank(IReadOnlyList<Part> parts, Assembly at)
        : base(parts)
    {
        nodes = [.. parts.Select(part => new FetNodes(part, hasBody: false, at))];
        laws = new Law[Count];
        lastSource = new double[Count];
        lastDrain = new double[Count];
        Forget();
    }

    public override void Prepare(double kelvin, int first, int end)
    {
        for (int i = first; i < end; i++)
        {
            double nominal = Numbers("nominal temperature")[i];
            double potential = Numbers("gate potential")[i];
            double cgs = Numbers("gate-source capacitance")[i];
            double cgd = Numbers("gate-drain capacitance")[i];
            double saturation = Numbers("saturation current")[i] * Junction.Growth(kelvin, nominal, Gap, Exponent);
            laws[i] = new()
            {
                Sign = Parts[i].Kind.Word[0] == 'p' ? -1 : 1,
                Threshold = Numbers("threshold")[i] + Numbers("threshold drift")[i] * (kelvin - nominal),
                Beta = Numbers("transconductance")[i] * Math.Pow(kelvin / nominal, Numbers("gain exponent")[i]),
                Lambda = Numbers("channel modulation")[i],
                Leak = Numbers("leakage")[i] * Junction.Doubling(kelvin, 10),
                Gate = DiodeLaw.Forward(saturation, Constants.ThermalVoltage(kelvin)),
                Source = Depletion.At(cgs, potential, 0.5, DepletionLimit, kelvin, nominal, Gap),
                Drain = Depletion.At(cgd, potential, 0.5, DepletionLimit, kelvin, nominal, Gap),
                Stores = cgs > 0 || cgd > 0,
            };
        }
    }

    public override void StampConstant(Pass pass, int first, int end)
    {
        double[] drain = Numbers("drain resistance");
        double[] source = Numbers("source resistance");
        for (int i = first; i < end; i++)
            nodes[i].AddSeries(pass.G, Least.Conductance(drain[i]), Least.Conductance(source[i]));
    }

    [MethodImpl(MethodImplOptions.AggressiveOptimization)]
    public override void Stamp(Pass pass, int first, int end)
    {
        for (int i = first; i < end; i++)
        {
            ref readonly FetNodes n = ref nodes[i];
            ref readonly Law law = ref laws[i];
            double vg = law.Sign * pass.X[n.Gate];
            double vd = law.Sign * pass.X[n.Drain];
            double vs = law.Sign * pass.X[n.Source];
            StampChannel(pass, in n, in law, vg, vd, vs);
            StampGate(pass, in law, in law.Source, vg - vs, ref lastSource[i], n.Gate, n.Source, n.GateSource);
            StampGate(pass, in law, in law.Drain, vg - vd, ref lastDrain[i], n.Gate, n.Drain, n.GateDrain);
            if (law.Leak > 0)
                StampLeak(pass, in n, in law, vd - vg);
        }
    }

    public override void Forget()
    {
        Array.Fill(lastSource, double.NaN);
        Array.Fill(lastDrain, double.NaN);
    }

    public override void Noise(Pass pass, int part, NoiseList into)
    {
        ref readonly FetNodes n = ref nodes[part];
        ref readonly Law law = ref laws[part];
        string name = Parts[part].Name;
        double vg = law.Sign * pass.X[n.Gate];
        double vd = law.Sign * pass.X[n.Drain];
        double vs = law.Sign * pass.X[n.Source];
        double overdrive = vg - Math.Min(vd, vs) - law.Threshold;
        double channel = ChannelLaw.Noise(law.Beta, overdrive, Math.Abs(vd - vs), pass.Temperature);
        into.Add($"{name} channel thermal", n.Drain, n.Source, channel);
        double gate = Math.Abs(law.Gate.Current(vg - vs, out _, out _, out _));
        double drain = Math.Abs(law.Gate.Current(vg - vd, out _, out _, out _)) + law.Leak;
        into.Add($"{name} gate shot", n.Gate, n.Source, 2 * Constants.Charge * gate);
        into.Add($"{name} drain-gate shot", n.Drain, n.Gate, 2 * Constants.Charge * drain);
        n.AddSeriesNoise(
            into,
            name,
            pass.Temperature,
            Numbers("drain resistance")[part],
            Numbers("source resistance")[part]
        );
    }

    private static void StampChannel(
        Pass pass,
        ref readonly FetNodes n,
        ref readonly Law law,
        double vg,
        double vd,
        double vs
    )
    {
        // The end at the lower voltage acts as the source.
        bool isTurned = vd < vs;
        double low = isTurned ? vd : vs;
        double vds = Math.Abs(vd - vs);
        double current = ChannelLaw.Current(
            law.Beta,
            law.Lambda,
            vg - low - law.Threshold,
            vds,
            out double byGate,
            out double byDrain
        );
        n.AddChannel(pass, isTurned, law.Sign * current, byGate, byDrain, 0);
    }

    private static void StampGate(
        Pass pass,
        ref readonly Law law,
        ref readonly Depletion depletion,
        double v,
        ref double last,
        int gate,
        int channel,
        Quad quad
    )
    {
        double at = pass.Limiting ? law.Gate.Limit(v, ref last, ref pass.Limited) : v;
        double current = law.Gate.Current(at, out double g, out _, out _);
        g += pass.Gmin;
        current = law.Sign * (current + pass.Gmin * at + g * (v - at));
        pass.F[gate] += current;
        pass.F[channel] -= current;
        quad.Add(pass.G, g);
        if (!law.Stores)
            return;
        double charge = depletion.Charge(at, out double c);
        charge = law.Sign * (charge + c * (v - at));
        pass.Q[gate] += charge;
        pass.Q[channel] -= charge;
        quad.Add(pass.C, c);
    }

    private static void StampLeak(Pass pass, ref readonly FetNodes n, ref readonly Law law, double vdg)
    {
        double share = Smooth.Tanh(vdg / ChannelLaw.LeakWidth, out double slope);
        double current = law.Sign * law.Leak * share;
        pass.F[n.Drain] += current;
        pass.F[n.Gate] -= current;
        n.GateDrain.Add(pass.G, law.Leak * slope / ChannelLaw.LeakWidth);
    }
}
