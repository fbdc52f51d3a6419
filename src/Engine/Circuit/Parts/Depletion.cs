using System.Runtime.CompilerServices;

namespace Consort.Engine.Circuit.Parts;

/// <summary>
/// Charge of a depletion layer: C = Cj0/(1 − v/Vj)^m below FC·Vj, its tangent above (so that it never meets the pole);
/// Massobrio and Antognetti ch. 1 and 2.
/// </summary>
internal struct Depletion
{
    private double capacitance;
    private double potential;
    private double grading;
    private double knee;
    private double chargeAtKnee;
    private double capacitanceAtKnee;
    private double slopeAboveKnee;

    /// <summary>Working values at a temperature. The capacitance follows 1 + m·(4e-4·(T − T0) + 1 − Vj(T)/Vj).</summary>
    public static Depletion At(
        double zeroBias,
        double potential,
        double grading,
        double limit,
        double kelvin,
        double nominal,
        double gap
    )
    {
        double m = Math.Clamp(grading, 0, 0.95);
        double moved = Junction.Potential(potential, kelvin, nominal, gap);
        double cj = zeroBias * (1 + m * (4e-4 * (kelvin - nominal) + 1 - moved / potential));
        double left = 1 - Math.Clamp(limit, 0, 0.95);
        double power = Math.Pow(left, -m);
        return new()
        {
            capacitance = cj,
            potential = moved,
            grading = m,
            knee = (1 - left) * moved,
            chargeAtKnee = cj * moved / (1 - m) * (1 - left * power),
            capacitanceAtKnee = cj * power,
            slopeAboveKnee = cj * m * power / (left * moved),
        };
    }

    /// <summary>Charge at a forward voltage, C, and the capacitance, F.</summary>
    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    public readonly double Charge(double v, out double c)
    {
        if (v > knee)
        {
            double over = v - knee;
            c = capacitanceAtKnee + slopeAboveKnee * over;
            return chargeAtKnee + over * (capacitanceAtKnee + 0.5 * slopeAboveKnee * over);
        }
        double left = 1 - v / potential;
        double power = grading == 0.5 ? 1 / Math.Sqrt(left) : Math.Pow(left, -grading);
        c = capacitance * power;
        return capacitance * potential / (1 - grading) * (1 - left * power);
    }
}
