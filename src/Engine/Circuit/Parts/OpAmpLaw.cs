using System.Runtime.CompilerServices;

namespace Consort.Engine.Circuit.Parts;

/// <summary>Working values of one op amp at one temperature, and what drives its inner state.</summary>
internal struct OpAmpLaw
{
    // The walls: at the limit they cost 0.1 V at the input, and e-fold less for every 10 mV away: 1e-22 V half a volt away.
    private const double WallCost = 0.1;
    private const double WallWidth = 0.01;
    private const double WallKnee = 6; // 40 V at the input: more than any supply
    private const double WallSure = 60 * WallWidth;

    /// <summary>What a conductance that helps a hard start takes off the gain, V per V and S: at 10 µS the gain is one, and it
    /// comes back as that conductance goes. Loops of high gain through a junction need it.</summary>
    public const double Softness = 1e5;

    public InputRange Range;
    public LimitedOutput Output;
    public double Offset;
    public double PlusBias,
        MinusBias;
    public double SupplyCurrent;
    public double HeadroomHigh,
        HeadroomLow;
    public double PerGain,
        PerRejection,
        PerSupplyRejection;

    /// <summary>Largest drive: slew rate over 2π·gain-bandwidth, V.</summary>
    public double LargestDrive;

    /// <summary>1/(2π·gain-bandwidth), s.</summary>
    public double TimeConstant;

    /// <summary>1/(2π·second pole), s.</summary>
    public double SecondTimeConstant;

    public double InputConductance,
        InputCapacitance;

    /// <summary>The drive and its derivatives.</summary>
    internal struct Drive
    {
        public double Value,
            ByPlus,
            ByMinus,
            ByPositive,
            ByNegative,
            ByState;
    }

    /// <summary>
    /// e = v(plus) − v(minus) + offset + common-mode and supply terms − u/A0 − walls(u): zero at rest; in motion
    /// du/dt = SR·tanh(2π·GBW·e/SR).
    /// </summary>
    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    public readonly void Evaluate(
        double plus,
        double minus,
        double positive,
        double negative,
        double u,
        double softness,
        ref Drive e
    )
    {
        double p = Range.Pass(plus, positive, negative, out e.ByPlus, out double pPositive, out double pNegative);
        double m = Range.Pass(minus, positive, negative, out double mByV, out double mPositive, out double mNegative);
        double half = 0.5 * PerRejection;
        double wall = Wall(u, positive, negative, out double byHigh, out double byLow);
        e.Value =
            p
            - m
            + Offset
            + half * (plus + minus - positive - negative)
            + PerSupplyRejection * (positive + negative)
            - (PerGain + softness) * u
            - wall;
        e.ByPlus += half;
        e.ByMinus = half - mByV;
        e.ByPositive = pPositive - mPositive - half + PerSupplyRejection + byHigh;
        e.ByNegative = pNegative - mNegative - half + PerSupplyRejection + byLow;
        e.ByState = -PerGain - softness - byHigh - byLow;
    }

    /// <summary>What the swing limits cost at the input, V: byHigh and byLow are its slopes by u at either wall.</summary>
    private readonly double Wall(double u, double positive, double negative, out double byHigh, out double byLow)
    {
        double over = u - (positive - HeadroomHigh);
        double under = negative + HeadroomLow - u;
        byHigh = byLow = 0;
        if (over < -WallSure && under < -WallSure)
            return 0;
        double high = WallCost * Junction.Exp(over / WallWidth, WallKnee, out byHigh);
        double low = WallCost * Junction.Exp(under / WallWidth, WallKnee, out byLow);
        byHigh *= WallCost / WallWidth;
        byLow *= WallCost / WallWidth;
        return high - low;
    }
}
