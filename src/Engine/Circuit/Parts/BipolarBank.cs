using System.Runtime.CompilerServices;
using Consort.Engine.Design;

namespace Consort.Engine.Circuit.Parts;

/// <summary>
/// Bipolar transistors, NPN and PNP, by <see cref="BipolarLaw"/> with base, emitter and collector resistance (an inner
/// node where it is above zero), depletion and diffusion charge, temperature laws of Massobrio and Antognetti ch. 2.
/// The second member of a matched pair needs the pair's offset more base voltage, and its junctions are warmer by the
/// gradient. Shot noise of collector and base current (with a flicker corner), thermal noise of the resistances. Left
/// out: base resistance that falls with current, transit time that grows with current, substrate, breakdown,
/// self-heating.
/// </summary>
internal sealed class BipolarBank : PartBank
{
    private readonly BipolarNodes[] nodes;
    private readonly BipolarLaw[] laws;
    private readonly bool[] isSecond;
    private readonly double[] lastBase;
    private readonly double[] lastCollector;

    public BipolarBank(IReadOnlyList<Part> parts, Assembly at)
        : base(parts)
    {
        nodes = [.. parts.Select(part => new BipolarNodes(part, at))];
        laws = new BipolarLaw[Count];
        isSecond = [.. parts.Select(part => part.Texts.GetValueOrDefault("member") is "2" or "second")];
        lastBase = new double[Count];
        lastCollector = new double[Count];
        Forget();
    }

    public override void Prepare(double kelvin, int first, int end)
    {
        for (int i = first; i < end; i++)
            laws[i] = Law(i, kelvin);
    }

    public override void StampConstant(Pass pass, int first, int end)
    {
        double[] baseResistance = Numbers("base resistance");
        double[] emitterResistance = Numbers("emitter resistance");
        double[] collectorResistance = Numbers("collector resistance");
        for (int i = first; i < end; i++)
        {
            ref readonly BipolarNodes n = ref nodes[i];
            if (n.Base != n.OuterBase)
                n.BaseSeries.Add(pass.G, Least.Conductance(baseResistance[i]));
            if (n.Emitter != n.OuterEmitter)
                n.EmitterSeries.Add(pass.G, Least.Conductance(emitterResistance[i]));
            if (n.Collector != n.OuterCollector)
                n.CollectorSeries.Add(pass.G, Least.Conductance(collectorResistance[i]));
        }
    }

    [MethodImpl(MethodImplOptions.AggressiveOptimization)]
    public override void Stamp(Pass pass, int first, int end)
    {
        double[] x = pass.X;
        double[] f = pass.F;
        double[] q = pass.Q;
        BipolarLaw.Flow flow = default;
        for (int i = first; i < end; i++)
        {
            ref readonly BipolarNodes n = ref nodes[i];
            ref readonly BipolarLaw law = ref laws[i];
            double sign = law.Sign;
            double vb = x[n.Base];
            double vbe = sign * (vb - x[n.Emitter]) - law.Offset;
            double vbc = sign * (vb - x[n.Collector]);
            double be = vbe;
            double bc = vbc;
            if (pass.Limiting)
            {
                be = Junction.Limit(vbe, ref lastBase[i], law.ForwardSlope, law.BaseCritical, ref pass.Limited);
                bc = Junction.Limit(
                    vbc,
                    ref lastCollector[i],
                    law.ReverseSlope,
                    law.CollectorCritical,
                    ref pass.Limited
                );
            }
            law.Currents(be, bc, pass.Gmin, ref flow);
            double ic = sign * (flow.Ic + flow.IcByBe * (vbe - be) + flow.IcByBc * (vbc - bc));
            double ib = sign * (flow.Ib + flow.IbByBe * (vbe - be) + flow.IbByBc * (vbc - bc));
            f[n.Collector] += ic;
            f[n.Base] += ib;
            f[n.Emitter] -= ic + ib;
            n.AddFlow(pass.G, flow.IcByBe, flow.IcByBc, flow.IbByBe, flow.IbByBc);
            if (!law.Stores)
                continue;
            double qbe = sign * (flow.Qbe + flow.QbeByBe * (vbe - be) + flow.QbeByBc * (vbc - bc));
            double qbc = sign * (flow.Qbc + flow.QbcByBc * (vbc - bc));
            q[n.Collector] -= qbc;
            q[n.Base] += qbe + qbc;
            q[n.Emitter] -= qbe;
            n.AddFlow(pass.C, 0, -flow.QbcByBc, flow.QbeByBe, flow.QbeByBc + flow.QbcByBc);
        }
    }

    public override void Forget()
    {
        Array.Fill(lastBase, double.NaN);
        Array.Fill(lastCollector, double.NaN);
    }

    public override void Noise(Pass pass, int part, NoiseList into)
    {
        ref readonly BipolarNodes n = ref nodes[part];
        ref readonly BipolarLaw law = ref laws[part];
        BipolarLaw.Flow flow = default;
        double vb = pass.X[n.Base];
        law.Currents(
            law.Sign * (vb - pass.X[n.Emitter]) - law.Offset,
            law.Sign * (vb - pass.X[n.Collector]),
            0,
            ref flow
        );
        string name = Parts[part].Name;
        double twoQ = 2 * Constants.Charge;
        into.Add($"{name} collector shot", n.Collector, n.Emitter, twoQ * Math.Abs(flow.Ic));
        into.Add($"{name} base shot", n.Base, n.Emitter, twoQ * Math.Abs(flow.Ib), Numbers("flicker corner")[part]);
        double fourKT = 4 * Constants.Boltzmann * pass.Temperature;
        Thermal("base", n.OuterBase, n.Base);
        Thermal("emitter", n.OuterEmitter, n.Emitter);
        Thermal("collector", n.OuterCollector, n.Collector);

        void Thermal(string what, int outer, int inner)
        {
            if (outer != inner)
                into.Add(
                    $"{name} {what} thermal",
                    outer,
                    inner,
                    fourKT * Least.Conductance(Numbers($"{what} resistance")[part])
                );
        }
    }

    private double Second(int i, string word) => isSecond[i] && Words.Contains(word) ? Numbers(word)[i] : 0;

    private BipolarLaw Law(int i, double circuitKelvin)
    {
        double kelvin = circuitKelvin + Second(i, "gradient");
        double nominal = Numbers("nominal temperature")[i];
        double gap = Numbers("energy gap")[i];
        double vt = Constants.ThermalVoltage(kelvin);
        double growth = Junction.Growth(kelvin, nominal, gap, Numbers("saturation exponent")[i]);
        double gainGrowth = Math.Pow(kelvin / nominal, Numbers("gain exponent")[i]);
        double saturation = Numbers("saturation current")[i] * growth;
        double ne = Numbers("base-emitter leakage emission")[i];
        double nc = Numbers("base-collector leakage emission")[i];
        double emitterLeak = Numbers("base-emitter leakage current")[i] * Math.Pow(growth, 1 / ne) / gainGrowth;
        double collectorLeak = Numbers("base-collector leakage current")[i] * Math.Pow(growth, 1 / nc) / gainGrowth;
        double forwardSlope = Numbers("forward emission")[i] * vt;
        double reverseSlope = Numbers("reverse emission")[i] * vt;
        double cje = Numbers("base-emitter capacitance")[i];
        double cjc = Numbers("base-collector capacitance")[i];
        double limit = Numbers("depletion limit")[i];
        return new()
        {
            Sign = Parts[i].Kind.Word == "pnp" ? -1 : 1,
            Offset = Second(i, "offset"),
            Saturation = saturation,
            ForwardGain = Numbers("forward gain")[i] * gainGrowth,
            ReverseGain = Numbers("reverse gain")[i] * gainGrowth,
            ForwardSlope = forwardSlope,
            ReverseSlope = reverseSlope,
            ForwardKnee = Junction.Knee(saturation),
            ReverseKnee = Junction.Knee(saturation),
            PerEarly = 1 / Numbers("forward Early voltage")[i],
            PerReverseEarly = 1 / Numbers("reverse Early voltage")[i],
            PerKneeCurrent = 1 / Numbers("forward knee current")[i],
            PerReverseKneeCurrent = 1 / Numbers("reverse knee current")[i],
            EmitterLeak = emitterLeak,
            EmitterLeakSlope = ne * vt,
            EmitterLeakKnee = Junction.Knee(emitterLeak),
            CollectorLeak = collectorLeak,
            CollectorLeakSlope = nc * vt,
            CollectorLeakKnee = Junction.Knee(collectorLeak),
            ForwardTransit = Numbers("forward transit time")[i],
            ReverseTransit = Numbers("reverse transit time")[i],
            BaseCritical = Junction.Critical(forwardSlope, saturation),
            CollectorCritical = Junction.Critical(reverseSlope, saturation),
            Stores =
                cje > 0 || cjc > 0 || Numbers("forward transit time")[i] > 0 || Numbers("reverse transit time")[i] > 0,
            Emitter = Depletion.At(
                cje,
                Numbers("base-emitter potential")[i],
                Numbers("base-emitter grading")[i],
                limit,
                kelvin,
                nominal,
                gap
            ),
            Collector = Depletion.At(
                cjc,
                Numbers("base-collector potential")[i],
                Numbers("base-collector grading")[i],
                limit,
                kelvin,
                nominal,
                gap
            ),
        };
    }
}
