using System.Runtime.CompilerServices;

namespace Consort.Engine.Circuit.Parts;

/// <summary>
/// Current of a junction: i = Is·(exp(v/(n·VT)) − 1) − Ib·(exp(−(v + Vb)/s) − exp(−Vb/s)), with a breakdown where Vb is
/// finite. Shockley, BSTJ 28 (1949) 435; breakdown as in Massobrio and Antognetti ch. 1, smooth and zero at 0 V.
/// </summary>
internal struct DiodeLaw
{
    private double saturation;
    private double perSlope;
    private double slope;
    private double knee;
    private double critical;
    private bool breaks;
    private double breakCurrent;
    private double breakVoltage;
    private double perBreakSlope;
    private double breakSlope;
    private double breakKnee;
    private double breakCritical;
    private double breakAtZero;

    /// <summary>A junction without breakdown.</summary>
    /// <param name="saturation">Is at the working temperature, A.</param>
    /// <param name="slope">n·VT, V.</param>
    public static DiodeLaw Forward(double saturation, double slope) =>
        new()
        {
            saturation = saturation,
            slope = slope,
            perSlope = 1 / slope,
            knee = Junction.Knee(saturation),
            critical = Junction.Critical(slope, saturation),
        };

    /// <summary>The same junction with a breakdown that carries a current at a reverse voltage.</summary>
    /// <param name="voltage">Reverse voltage, V; infinity for no breakdown.</param>
    /// <param name="current">Current there, A.</param>
    /// <param name="steepness">Voltage over which it grows e-fold, V.</param>
    public readonly DiodeLaw Breaking(double voltage, double current, double steepness)
    {
        DiodeLaw law = this;
        law.breaks = double.IsFinite(voltage) && current > 0;
        law.breakVoltage = voltage;
        law.breakCurrent = current;
        law.breakSlope = steepness;
        law.perBreakSlope = 1 / steepness;
        law.breakKnee = Junction.Knee(current);
        law.breakCritical = Junction.Critical(steepness, current);
        law.breakAtZero = Math.Exp(-voltage / steepness);
        return law;
    }

    /// <summary>Current at a voltage, A.</summary>
    /// <param name="v">Forward voltage, V.</param>
    /// <param name="g">di/dv, S.</param>
    /// <param name="forward">The part of i that stores charge, A.</param>
    /// <param name="gForward">Its derivative, S.</param>
    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    public readonly double Current(double v, out double g, out double forward, out double gForward)
    {
        forward = saturation * (Junction.Exp(v * perSlope, knee, out double rise) - 1);
        g = gForward = saturation * rise * perSlope;
        if (!breaks)
            return forward;
        double reverse = Junction.Exp(-(v + breakVoltage) * perBreakSlope, breakKnee, out double fall);
        g += breakCurrent * fall * perBreakSlope;
        return forward - breakCurrent * (reverse - breakAtZero);
    }

    /// <summary>Holds the voltage back against the last pass, forward or in breakdown.</summary>
    public readonly double Limit(double v, ref double last, ref bool held)
    {
        if (v >= 0 || !breaks)
            return Junction.Limit(v, ref last, slope, critical, ref held);
        bool isHeld = false;
        double lastOver = -(last + breakVoltage);
        double over = Junction.Limit(-(v + breakVoltage), ref lastOver, breakSlope, breakCritical, ref isHeld);
        held |= isHeld;
        return last = isHeld ? -(over + breakVoltage) : v;
    }
}
