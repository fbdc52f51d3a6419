using Consort.Engine.Pitch;
using Consort.Engine.Sound.Laws;

namespace Consort.Engine.Sound.Live;

/// <summary>The keyboard's voltage and gate as they are being played.</summary>
/// <param name="first">The oscillator whose law the keyboard follows.</param>
/// <param name="rate">Samples a second.</param>
/// <param name="late">By how many samples waves come out late: the gate waits as long.</param>
internal sealed class LiveKey(Oscillator first, int rate, int late)
{
    private readonly double[] gains = new double[Math.Max(1, late)]; // a ring: what the gate was, late samples ago
    private int at;
    private double key;
    private double target = double.NaN;
    private bool isHeld;
    private double gain;
    private double keep;
    private double up = 1;
    private double down = 1;
    private double cents;

    /// <summary>By how many samples the gate waits.</summary>
    public int Late => late;

    /// <summary>V; NaN before the first note.</summary>
    public double Volts { get; private set; } = double.NaN;

    /// <summary>True while the voltage moves.</summary>
    public bool Glides => Math.Abs(Volts - target) > 1e-9;

    /// <summary>Takes the controls over.</summary>
    public void Follow(LiveControls controls)
    {
        keep = controls.Glide > 0 ? Math.Exp(-0.5 / (controls.Glide * rate)) : 0;
        up = 1 / Math.Max(1, controls.Attack * rate);
        down = 1 / Math.Max(1, controls.Release * rate);
        if (controls.Cents == cents)
            return;
        cents = controls.Cents;
        if (!double.IsNaN(Volts))
            Aim();
    }

    /// <summary>A key, or none.</summary>
    public void Touch(double? touched)
    {
        isHeld = touched is not null;
        if (touched is not { } pressed)
            return;
        key = pressed;
        Aim();
    }

    private void Aim()
    {
        target = LawReader.VoltsOf(first, key) + cents / 1200 * first.Spec.VoltsPerOctave;
        if (double.IsNaN(Volts) || keep == 0)
            Volts = target;
    }

    /// <summary>Half a sample on.</summary>
    public void Glide() => Volts = Glides ? target + (Volts - target) * keep : target;

    /// <summary>The gate's gain for the wave that comes out at the next sample.</summary>
    public double Gain()
    {
        gain = isHeld ? Math.Min(1, gain + up) : Math.Max(0, gain - down);
        if (late == 0)
            return gain;
        double then = gains[at];
        gains[at] = gain;
        at = at + 1 < late ? at + 1 : 0;
        return then;
    }
}
