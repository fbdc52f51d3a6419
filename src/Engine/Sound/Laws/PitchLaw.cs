using System.Collections.Immutable;
using Consort.Engine.Pitch;
using MathNet.Numerics.Interpolation;

namespace Consort.Engine.Sound.Laws;

/// <summary>
/// The pitch of one oscillator at any control voltage: its error in cents as it was read at some voltages, joined by the
/// spline of Akima (J. ACM 17 (1970) 589), which does not overshoot beside a bend; beyond them the error of the last.
/// </summary>
public sealed class PitchLaw
{
    private readonly Oscillator oscillator;
    private readonly double[] volts;
    private readonly double[] cents;
    private readonly CubicSpline? spline;
    private readonly double atZero; // V: where it should be there, Hz

    /// <summary>From readings at rising voltages.</summary>
    public PitchLaw(Oscillator oscillator, IEnumerable<(double Volts, double Hertz)> readings)
    {
        this.oscillator = oscillator;
        atZero = oscillator.IdealHertz(0);
        (double Volts, double Hertz)[] sound = [.. readings.Where(reading => double.IsFinite(reading.Hertz)).OrderBy(reading => reading.Volts)];
        volts = [.. sound.Select(reading => reading.Volts)];
        cents = [.. sound.Select(reading => oscillator.Cents(reading.Volts, reading.Hertz))];
        spline = volts.Length >= 5 ? CubicSpline.InterpolateAkimaSorted(volts, cents) : null;
    }

    /// <summary>Voltages and errors that it was made of.</summary>
    public ImmutableArray<(double Volts, double Cents)> Points => [.. volts.Zip(cents)];

    /// <summary>Hz at a control voltage, moved by an interval of its own.</summary>
    public double Hertz(double at, double moved = 0)
    {
        double control = at + moved / 1200 * oscillator.Spec.VoltsPerOctave;
        return atZero * Math.Exp(Math.Log(2) * (control / oscillator.Spec.VoltsPerOctave + Error(control) / 1200)); // one exponential: glides ask often
    }

    /// <summary>Its error at a control voltage, cents.</summary>
    public double Error(double at)
    {
        if (volts.Length == 0)
            return 0;
        double within = Math.Clamp(at, volts[0], volts[^1]);
        if (spline is not null)
            return spline.Interpolate(within);
        int i = Math.Clamp(Array.FindIndex(volts, v => v >= within), 1, Math.Max(1, volts.Length - 1));
        return volts.Length == 1 ? cents[0] : cents[i - 1] + (cents[i] - cents[i - 1]) * (within - volts[i - 1]) / (volts[i] - volts[i - 1]);
    }
}
