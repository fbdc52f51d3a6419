using System.Runtime.CompilerServices;

namespace Consort.Engine.Circuit.Parts;

/// <summary>What all p-n junctions share: a safe exponential, limiting, temperature laws.</summary>
internal static class Junction
{
    /// <summary>Below this exponent exp is taken as 0: 2e-35 is lost beside the 1 that is always subtracted.</summary>
    private const double Floor = -80;

    private const double ConductingCurrent = 1e-5; // A
    private const double FoldsToFirst = 9.2; // from there to 0.1 A

    /// <summary>exp(x), followed by its tangent past a knee: finite, monotone, with a continuous slope.</summary>
    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    public static double Exp(double x, double knee, out double slope)
    {
        if (x < Floor)
        {
            slope = 0;
            return 0;
        }
        if (x <= knee)
            return slope = Math.Exp(x);
        slope = Math.Exp(knee);
        return slope * (1 + x - knee);
    }

    /// <summary>The exponent at which a junction would carry 10 kA: past it a guess is wild, not physical.</summary>
    public static double Knee(double saturation) => saturation > 0 ? Math.Clamp(Math.Log(1e4 / saturation), 1, 600) : 0;

    /// <summary>Where a junction counts as conducting, n·VT·ln(10 µA/Is): a rise from below stops there. The usual point,
    /// that of the strongest curvature in one ohm, lies near 20 mA: circuits of kilohms climb down from it e-fold by
    /// e-fold.</summary>
    public static double Critical(double slope, double saturation) =>
        saturation > 0 ? slope * Math.Log(ConductingCurrent / saturation) : double.PositiveInfinity;

    /// <summary>
    /// Logarithmic limiting of a junction voltage against the last pass (W. J. McCalla, Fundamentals of Computer-Aided
    /// Circuit Simulation, 1988, from memory): a rise from below stops at the critical voltage; past it a rise counts by its
    /// logarithm, as the current that the linear guess asked for would.
    /// </summary>
    /// <param name="v">Voltage that the unknowns ask for.</param>
    /// <param name="last">Voltage of the last pass; NaN when there was none. Receives the result.</param>
    /// <param name="slope">n·VT.</param>
    /// <param name="critical">From <see cref="Critical"/>.</param>
    /// <param name="held">Set when the result is not v.</param>
    public static double Limit(double v, ref double last, double slope, double critical, ref bool held)
    {
        // A first voltage is a good guess unless it asks for more than 0.1 A. The share of the slope is for rounding.
        bool isUp = last > critical - 0.01 * slope;
        double from =
            isUp ? Math.Max(last, critical)
            : double.IsNaN(last) ? critical + FoldsToFirst * slope
            : critical;
        double step = v - from;
        if (step > 2 * slope)
        {
            v = isUp ? from + slope * Math.Log(1 + step / slope) : from;
            held = true;
        }
        return last = v;
    }

    /// <summary>Saturation current's growth (T/T0)^(XTI/n)·exp((Eg·q/(n·k))·(1/T0 − 1/T)); Massobrio and Antognetti,
    /// Semiconductor Device Modeling, 2nd ed. 1993, ch. 1 and 2.</summary>
    public static double Growth(double kelvin, double nominal, double gap, double exponent, double emission = 1)
    {
        if (kelvin == nominal)
            return 1;
        double logarithm =
            exponent * Math.Log(kelvin / nominal)
            + gap * Constants.Charge / Constants.Boltzmann * (1 / nominal - 1 / kelvin);
        return Math.Exp(logarithm / emission);
    }

    /// <summary>Built-in potential at a temperature: V·T/T0 + Eg·(1 − T/T0) − 3·VT·ln(T/T0), which follows from
    /// V = VT·ln(Na·Nd/ni²) with the same ni² ∝ T³·exp(−Eg/kT) as the saturation current; at least 50 mV.</summary>
    public static double Potential(double potential, double kelvin, double nominal, double gap)
    {
        double ratio = kelvin / nominal;
        double moved = potential * ratio + gap * (1 - ratio) - 3 * Constants.ThermalVoltage(kelvin) * Math.Log(ratio);
        return Math.Max(moved, 0.05);
    }

    /// <summary>2^((T − 25 °C)/step): leakage and bias currents that double every so many kelvin.</summary>
    public static double Doubling(double kelvin, double step) =>
        double.IsPositiveInfinity(step) ? 1 : Math.Pow(2, (kelvin - Constants.ReferenceTemperature) / step);
}
