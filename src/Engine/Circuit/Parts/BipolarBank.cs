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
internal sealed class BipolarBank : PartBank, IJunctions
{
    private const double Saturation = 0.5; // V from base to collector: less stores next to nothing

    private readonly BipolarNodes[] nodes;
    private readonly BipolarLaw[] laws;
    private readonly bool[] isSecond;
    private readonly double[] lastBase;
    private readonly double[] lastCollector;
    private readonly double[] baseResistance;
    private readonly double[] emitterResistance;
    private readonly double[] collectorResistance;
    private readonly double[] flickerCorner;
    private readonly double[] nominalTemperature;
    private readonly double[] energyGap;
    private readonly double[] saturationExponent;
    private readonly double[] gainExponent;
    private readonly double[] saturationCurrent;
    private readonly double[] baseEmitterLeakageEmission;
    private readonly double[] baseCollectorLeakageEmission;
    private readonly double[] baseEmitterLeakageCurrent;
    private readonly double[] baseCollectorLeakageCurrent;
    private readonly double[] forwardEmission;
    private readonly double[] reverseEmission;
    private readonly double[] baseEmitterCapacitance;
    private readonly double[] baseCollectorCapacitance;
    private readonly double[] depletionLimit;
    private readonly double[] forwardGain;
    private readonly double[] reverseGain;
    private readonly double[] forwardEarlyVoltage;
    private readonly double[] reverseEarlyVoltage;
    private readonly double[] forwardKneeCurrent;
    private readonly double[] reverseKneeCurrent;
    private readonly double[] forwardTransitTime;
    private readonly double[] reverseTransitTime;
    private readonly double[] baseEmitterPotential;
    private readonly double[] baseEmitterGrading;
    private readonly double[] baseCollectorPotential;
    private readonly double[] baseCollectorGrading;

    public BipolarBank(IReadOnlyList<Part> parts, Assembly at)
        : base(parts)
    {
        nodes = [.. parts.Select(part => new BipolarNodes(part, at))];
        laws = new BipolarLaw[Count];
        isSecond = [.. parts.Select(part => part.Texts.GetValueOrDefault("member") is "2" or "second")];
        lastBase = new double[Count];
        lastCollector = new double[Count];
        baseResistance = Numbers("base resistance");
        emitterResistance = Numbers("emitter resistance");
        collectorResistance = Numbers("collector resistance");
        flickerCorner = Numbers("flicker corner");
        nominalTemperature = Numbers("nominal temperature");
        energyGap = Numbers("energy gap");
        saturationExponent = Numbers("saturation exponent");
        gainExponent = Numbers("gain exponent");
        saturationCurrent = Numbers("saturation current");
        baseEmitterLeakageEmission = Numbers("base-emitter leakage emission");
        baseCollectorLeakageEmission = Numbers("base-collector leakage emission");
        baseEmitterLeakageCurrent = Numbers("base-emitter leakage current");
        baseCollectorLeakageCurrent = Numbers("base-collector leakage current");
        forwardEmission = Numbers("forward emission");
        reverseEmission = Numbers("reverse emission");
        baseEmitterCapacitance = Numbers("base-emitter capacitance");
        baseCollectorCapacitance = Numbers("base-collector capacitance");
        depletionLimit = Numbers("depletion limit");
        forwardGain = Numbers("forward gain");
        reverseGain = Numbers("reverse gain");
        forwardEarlyVoltage = Numbers("forward Early voltage");
        reverseEarlyVoltage = Numbers("reverse Early voltage");
        forwardKneeCurrent = Numbers("forward knee current");
        reverseKneeCurrent = Numbers("reverse knee current");
        forwardTransitTime = Numbers("forward transit time");
        reverseTransitTime = Numbers("reverse transit time");
        baseEmitterPotential = Numbers("base-emitter potential");
        baseEmitterGrading = Numbers("base-emitter grading");
        baseCollectorPotential = Numbers("base-collector potential");
        baseCollectorGrading = Numbers("base-collector grading");
        Forget();
    }

    /// <inheritdoc/>
    public bool HasBare => laws.Any(law => !law.Stores);

    /// <summary>True when the base-collector junction of one leads, so that the charge it stores grows e-fold in 26 mV.</summary>
    public bool Saturates(double[] x)
    {
        for (int i = 0; i < Count; i++)
            if (laws[i].Stores && laws[i].Sign * (x[nodes[i].Base] - x[nodes[i].Collector]) > Saturation)
                return true;
        return false;
    }

    public override void Prepare(double kelvin, int first, int end)
    {
        for (int i = first; i < end; i++)
            laws[i] = Law(i, kelvin);
    }

    public override void StampConstant(Pass pass, int first, int end)
    {
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
            if (pass.WantsSlopes)
                n.AddFlow(pass.G, flow.IcByBe, flow.IcByBc, flow.IbByBe, flow.IbByBc);
            if (!law.Stores)
                continue;
            double qbe = sign * (flow.Qbe + flow.QbeByBe * (vbe - be) + flow.QbeByBc * (vbc - bc));
            double qbc = sign * (flow.Qbc + flow.QbcByBc * (vbc - bc));
            q[n.Collector] -= qbc;
            q[n.Base] += qbe + qbc;
            q[n.Emitter] -= qbe;
            if (pass.WantsSlopes)
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
        into.Add($"{name} base shot", n.Base, n.Emitter, twoQ * Math.Abs(flow.Ib), flickerCorner[part]);
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

    /// <summary>The inner nodes between which a transistor's law acts: collector, base, emitter.</summary>
    public (int Collector, int Base, int Emitter) Inner(int part) => (nodes[part].Collector, nodes[part].Base, nodes[part].Emitter);

    /// <summary>A transistor's working values at a temperature, K.</summary>
    public BipolarLaw LawAt(int part, double kelvin) => Law(part, kelvin);

    private double Second(int i, string word) => isSecond[i] && Words.Contains(word) ? Numbers(word)[i] : 0;

    private BipolarLaw Law(int i, double circuitKelvin)
    {
        double kelvin = circuitKelvin + Second(i, "gradient");
        double nominal = nominalTemperature[i];
        double gap = energyGap[i];
        double vt = Constants.ThermalVoltage(kelvin);
        double growth = Junction.Growth(kelvin, nominal, gap, saturationExponent[i]);
        double gainGrowth = Math.Pow(kelvin / nominal, gainExponent[i]);
        double saturation = saturationCurrent[i] * growth;
        double ne = baseEmitterLeakageEmission[i];
        double nc = baseCollectorLeakageEmission[i];
        double emitterLeak = baseEmitterLeakageCurrent[i] * Math.Pow(growth, 1 / ne) / gainGrowth;
        double collectorLeak = baseCollectorLeakageCurrent[i] * Math.Pow(growth, 1 / nc) / gainGrowth;
        double forwardSlope = forwardEmission[i] * vt;
        double reverseSlope = reverseEmission[i] * vt;
        double cje = baseEmitterCapacitance[i];
        double cjc = baseCollectorCapacitance[i];
        double limit = depletionLimit[i];
        return new()
        {
            Sign = Parts[i].Kind.Word == "pnp" ? -1 : 1,
            Offset = Second(i, "offset"),
            Saturation = saturation,
            ForwardGain = forwardGain[i] * gainGrowth,
            ReverseGain = reverseGain[i] * gainGrowth,
            ForwardSlope = forwardSlope,
            ReverseSlope = reverseSlope,
            ForwardKnee = Junction.Knee(saturation),
            ReverseKnee = Junction.Knee(saturation),
            PerEarly = 1 / forwardEarlyVoltage[i],
            PerReverseEarly = 1 / reverseEarlyVoltage[i],
            PerKneeCurrent = 1 / forwardKneeCurrent[i],
            PerReverseKneeCurrent = 1 / reverseKneeCurrent[i],
            EmitterLeak = emitterLeak,
            EmitterLeakSlope = ne * vt,
            EmitterLeakKnee = Junction.Knee(emitterLeak),
            CollectorLeak = collectorLeak,
            CollectorLeakSlope = nc * vt,
            CollectorLeakKnee = Junction.Knee(collectorLeak),
            ForwardTransit = forwardTransitTime[i],
            ReverseTransit = reverseTransitTime[i],
            BaseCritical = Junction.Critical(forwardSlope, saturation),
            CollectorCritical = Junction.Critical(reverseSlope, saturation),
            Stores =
                cje > 0 || cjc > 0 || forwardTransitTime[i] > 0 || reverseTransitTime[i] > 0,
            Emitter = Depletion.At(
                cje,
                baseEmitterPotential[i],
                baseEmitterGrading[i],
                limit,
                kelvin,
                nominal,
                gap
            ),
            Collector = Depletion.At(
                cjc,
                baseCollectorPotential[i],
                baseCollectorGrading[i],
                limit,
                kelvin,
                nominal,
                gap
            ),
        };
    }
}
