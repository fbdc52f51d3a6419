using System.Runtime.CompilerServices;
using Consort.Engine.Design;

namespace Consort.Engine.Circuit.Parts;

/// <summary>
/// Enhancement MOSFETs of both channels, the same forwards and backwards: <see cref="ChannelLaw"/> with body effect,
/// constant capacitances, drain and source resistance, body junctions, a drain-source leakage that doubles every 10 K.
/// Threshold moves in a straight line with temperature, transconductance as T^−1.5. Thermal noise of channel and
/// resistances, shot noise of the leakage. Massobrio and Antognetti ch. 4 (level 1). Left out: conduction below the
/// threshold, short-channel effects, charge of the body junctions, capacitances that change with voltage, 1/f noise.
/// </summary>
internal sealed class MosfetBank : PartBank
{
    private const double Gap = 1.11;
    private const double Exponent = 3;
    private const double MobilityExponent = -1.5;

    private struct Law
    {
        public double Sign,
            Threshold,
            Beta,
            Lambda,
            Gamma,
            Phi,
            RootPhi,
            Leak;
        public DiodeLaw Body;
    }

    private readonly FetNodes[] nodes;
    private readonly Law[] laws;
    private readonly double[] lastSource;
    private readonly double[] lastDrain;

    public MosfetBank(IReadOnlyList<Part> parts, Assembly at)
        : base(parts)
    {
        nodes = [.. parts.Select(part => new FetNodes(part, part.NetAt("body") is not null, at))];
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
            double phi = Math.Max(Numbers("surface potential")[i], 0.1);
            double saturation = Numbers("saturation current")[i] * Junction.Growth(kelvin, nominal, Gap, Exponent);
            laws[i] = new()
            {
                Sign = Parts[i].Kind.Word[0] == 'p' ? -1 : 1,
                Threshold = Numbers("threshold")[i] + Numbers("threshold drift")[i] * (kelvin - nominal),
                Beta = Numbers("transconductance")[i] / 2 * Math.Pow(kelvin / nominal, MobilityExponent),
                Lambda = Numbers("channel modulation")[i],
                Gamma = Numbers("body effect")[i],
                Phi = phi,
                RootPhi = Math.Sqrt(phi),
                Leak = Numbers("leakage")[i] * Junction.Doubling(kelvin, 10),
                Body = DiodeLaw.Forward(saturation, Constants.ThermalVoltage(kelvin)),
            };
        }
    }

    public override void StampConstant(Pass pass, int first, int end)
    {
        for (int i = first; i < end; i++)
        {
            ref readonly FetNodes n = ref nodes[i];
            n.AddSeries(
                pass.G,
                Least.Conductance(Numbers("drain resistance")[i]),
                Least.Conductance(Numbers("source resistance")[i])
            );
            n.GateSource.Add(pass.C, Numbers("gate-source capacitance")[i]);
            n.GateDrain.Add(pass.C, Numbers("gate-drain capacitance")[i]);
            n.DrainSource.Add(pass.C, Numbers("drain-source capacitance")[i]);
        }
    }

    [MethodImpl(MethodImplOptions.AggressiveOptimization)]
    public override void Stamp(Pass pass, int first, int end)
    {
        double[] x = pass.X;
        for (int i = first; i < end; i++)
        {
            ref readonly FetNodes n = ref nodes[i];
            ref readonly Law law = ref laws[i];
            double vg = law.Sign * x[n.Gate];
            double vd = law.Sign * x[n.Drain];
            double vs = law.Sign * x[n.Source];
            double vb = law.Sign * x[n.Body];
            StampChannel(pass, in n, in law, vg, vd, vs, vb);
            StampBody(pass, in law, vb - vd, ref lastDrain[i], n.Body, n.Drain, n.BodyDrain);
            if (n.Body != n.Source)
                StampBody(pass, in law, vb - vs, ref lastSource[i], n.Body, n.Source, n.BodySource);
            if (law.Leak > 0)
                StampLeak(pass, in n, in law, vd - vs);
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
        double vd = law.Sign * pass.X[n.Drain];
        double vs = law.Sign * pass.X[n.Source];
        double low = Math.Min(vd, vs);
        double overdrive = law.Sign * pass.X[n.Gate] - low - Threshold(in law, low - law.Sign * pass.X[n.Body], out _);
        into.Add(
            $"{name} channel thermal",
            n.Drain,
            n.Source,
            ChannelLaw.Noise(law.Beta, overdrive, Math.Abs(vd - vs), pass.Temperature)
        );
        into.Add($"{name} leakage shot", n.Drain, n.Source, 2 * Constants.Charge * law.Leak);
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
        double vs,
        double vb
    )
    {
        bool isTurned = vd < vs;
        double low = isTurned ? vd : vs;
        double threshold = Threshold(in law, low - vb, out double byBody);
        double current = ChannelLaw.Current(
            law.Beta,
            law.Lambda,
            vg - low - threshold,
            Math.Abs(vd - vs),
            out double byGate,
            out double byDrain
        );
        n.AddChannel(pass, isTurned, law.Sign * current, byGate, byDrain, byGate * byBody);
    }

    /// <summary>VTO + γ·(√(φ + vsb) − √φ); for a forward body the root's hyperbola, which never ends.</summary>
    private static double Threshold(ref readonly Law law, double sourceToBody, out double slope)
    {
        double root;
        if (sourceToBody >= 0)
        {
            root = Math.Sqrt(law.Phi + sourceToBody);
            slope = law.Gamma / (2 * root);
        }
        else
        {
            double along = 1 - sourceToBody / (2 * law.Phi);
            root = law.RootPhi / along;
            slope = law.Gamma * root / (2 * law.Phi * along);
        }
        return law.Threshold + law.Gamma * (root - law.RootPhi);
    }

    private static void StampBody(
        Pass pass,
        ref readonly Law law,
        double v,
        ref double last,
        int body,
        int channel,
        Quad quad
    )
    {
        double at = pass.Limiting ? law.Body.Limit(v, ref last, ref pass.Limited) : v;
        double current = law.Body.Current(at, out double g, out _, out _);
        g += pass.Gmin;
        current = law.Sign * (current + pass.Gmin * at + g * (v - at));
        pass.F[body] += current;
        pass.F[channel] -= current;
        quad.Add(pass.G, g);
    }

    private static void StampLeak(Pass pass, ref readonly FetNodes n, ref readonly Law law, double vds)
    {
        double share = Smooth.Tanh(vds / ChannelLaw.LeakWidth, out double slope);
        double current = law.Sign * law.Leak * share;
        pass.F[n.Drain] += current;
        pass.F[n.Source] -= current;
        n.DrainSource.Add(pass.G, law.Leak * slope / ChannelLaw.LeakWidth);
    }
}
