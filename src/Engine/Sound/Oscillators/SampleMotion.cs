namespace Consort.Engine.Sound.Oscillators;

/// <summary>How an oscillator's phase runs within one sample: its frequency is the parabola through the sample's start, middle
/// and end.</summary>
/// <param name="Start">Cycles a sample at its start.</param>
/// <param name="Rise">First coefficient over the sample.</param>
/// <param name="Curve">Second coefficient.</param>
internal readonly record struct SampleMotion(double Start, double Rise, double Curve)
{
    public static SampleMotion Through(double start, double middle, double end) =>
        new(start, 4 * middle - 3 * start - end, 2 * (start - 2 * middle + end));

    /// <summary>Cycles a sample at a moment, 0 to 1.</summary>
    public double At(double t) => Start + t * (Rise + t * Curve);

    /// <summary>Phase gained from the start to a moment.</summary>
    public double Gain(double t) => t * (Start + t * (Rise / 2 + t * Curve / 3));

    /// <summary>The moment at which so much is gained, not before another; Newton's method on the cubic, a straight line first.</summary>
    public double When(double gain, double from)
    {
        if (Rise == 0 && Curve == 0)
            return Math.Clamp(gain / Start, from, 1);
        double whole = Gain(1);
        double t = whole > 0 ? gain / whole : 1;
        for (int pass = 0; pass < 8; pass++)
        {
            double step = (Gain(t) - gain) / Math.Max(At(t), 1e-12);
            t = Math.Clamp(t - step, from, 1);
            if (Math.Abs(step) < 1e-14)
                break;
        }
        return t;
    }
}
