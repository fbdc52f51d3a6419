using System.Runtime.CompilerServices;

namespace Consort.Engine.Circuit.Parts;

/// <summary>
/// Working values of one bipolar transistor at one temperature, and its currents and charges. Gummel and Poon, BSTJ 49
/// (1970) 827, in the form of Massobrio and Antognetti ch. 2: Ic = (If − Ir)/qb, qb = q1·(1 + √(1 + 4·q2))/2,
/// 1/q1 = 1 − vbc/VAF − vbe/VAR, q2 = If/IKF + Ir/IKR. Voltages are those of an NPN.
/// </summary>
internal struct BipolarLaw
{
    // Below this share 1/q1 is followed by an exponential: only guesses of the solver go there, never a transistor.
    private const double LeastEarly = 0.1;

    /// <summary>+1 for NPN, −1 for PNP.</summary>
    public double Sign;

    /// <summary>By how much the junction needs more base-emitter voltage than the model says, V.</summary>
    public double Offset;

    /// <summary>True when it stores charge.</summary>
    public bool Stores;

    internal double Saturation,
        ForwardGain,
        ReverseGain;
    internal double ForwardSlope,
        ReverseSlope,
        ForwardKnee,
        ReverseKnee;
    internal double PerEarly,
        PerReverseEarly,
        PerKneeCurrent,
        PerReverseKneeCurrent;
    internal double EmitterLeak,
        EmitterLeakSlope,
        EmitterLeakKnee;
    internal double CollectorLeak,
        CollectorLeakSlope,
        CollectorLeakKnee;
    internal double ForwardTransit,
        ReverseTransit;
    internal double BaseCritical,
        CollectorCritical;
    internal Depletion Emitter,
        Collector;

    /// <summary>Collector and base current and their derivatives at two junction voltages.</summary>
    internal struct Flow
    {
        public double Ic,
            IcByBe,
            IcByBc;
        public double Ib,
            IbByBe,
            IbByBc;
        public double Qbe,
            QbeByBe,
            QbeByBc;
        public double Qbc,
            QbcByBc;
    }

    /// <summary>Currents into collector and base.</summary>
    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    public readonly void Currents(double vbe, double vbc, double gmin, ref Flow flow)
    {
        double rise = Junction.Exp(vbe / ForwardSlope, ForwardKnee, out double riseSlope);
        double back = Junction.Exp(vbc / ReverseSlope, ReverseKnee, out double backSlope);
        double forward = Saturation * (rise - 1);
        double gForward = Saturation * riseSlope / ForwardSlope;
        double reverse = Saturation * (back - 1);
        double gReverse = Saturation * backSlope / ReverseSlope;

        double early = 1 - vbc * PerEarly - vbe * PerReverseEarly;
        double earlySlope = 1;
        if (early < LeastEarly)
        {
            early = LeastEarly * Math.Exp(early / LeastEarly - 1);
            earlySlope = early / LeastEarly;
        }
        double load = 1 + 4 * (forward * PerKneeCurrent + reverse * PerReverseKneeCurrent);
        double root = Math.Sqrt(Math.Max(load, LeastEarly));
        double per = 2 / (1 + root);
        double perByLoad = load > LeastEarly ? -0.25 * per * per / root : 0;
        double perQb = early * per;
        double perQbByBe = -earlySlope * PerReverseEarly * per + early * perByLoad * 4 * gForward * PerKneeCurrent;
        double perQbByBc = -earlySlope * PerEarly * per + early * perByLoad * 4 * gReverse * PerReverseKneeCurrent;

        double through = (forward - reverse) * perQb;
        double throughByBe = gForward * perQb + (forward - reverse) * perQbByBe;
        double throughByBc = -gReverse * perQb + (forward - reverse) * perQbByBc;

        double be = forward / ForwardGain + gmin * vbe;
        double gbe = gForward / ForwardGain + gmin;
        double bc = reverse / ReverseGain + gmin * vbc;
        double gbc = gReverse / ReverseGain + gmin;
        if (EmitterLeak > 0)
        {
            be += EmitterLeak * (Junction.Exp(vbe / EmitterLeakSlope, EmitterLeakKnee, out double slope) - 1);
            gbe += EmitterLeak * slope / EmitterLeakSlope;
        }
        if (CollectorLeak > 0)
        {
            bc += CollectorLeak * (Junction.Exp(vbc / CollectorLeakSlope, CollectorLeakKnee, out double slope) - 1);
            gbc += CollectorLeak * slope / CollectorLeakSlope;
        }

        flow.Ic = through - bc;
        flow.IcByBe = throughByBe;
        flow.IcByBc = throughByBc - gbc;
        flow.Ib = be + bc;
        flow.IbByBe = gbe;
        flow.IbByBc = gbc;
        if (!Stores)
            return;
        flow.Qbe = Emitter.Charge(vbe, out double cbe) + ForwardTransit * forward * perQb;
        flow.QbeByBe = cbe + ForwardTransit * (gForward * perQb + forward * perQbByBe);
        flow.QbeByBc = ForwardTransit * forward * perQbByBc;
        flow.Qbc = Collector.Charge(vbc, out double cbc) + ReverseTransit * reverse;
        flow.QbcByBc = cbc + ReverseTransit * gReverse;
    }
}
