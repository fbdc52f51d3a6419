using Consort.Engine.Sound.Oscillators;
using Consort.Engine.Sound.Playing;

namespace Consort.Engine.Sound.Live;

/// <summary>A moved player at work: its voltage at each half sample.</summary>
/// <param name="stands">Where it stands in the voice, V.</param>
/// <param name="rate">Samples a second.</param>
internal sealed class LivePlayer(double stands, int rate)
{
    private const double Smoothing = 4e-3; // s

    private readonly SmoothValue offset = new(0, Smoothing, 2.0 * rate);
    private readonly SmoothValue depth = new(0, Smoothing, 2.0 * rate);
    private double phase;
    private Modulation shape = new("", false, 1, 0, 1);

    /// <summary>At the start, each half sample and the end of the last block.</summary>
    public double[] Volts { get; } = new double[2 * SoundOscillator.Block + 1];

    /// <summary>Fills a block.</summary>
    /// <param name="control">Where its controls stand.</param>
    /// <param name="hertz">The first oscillator's pitch.</param>
    /// <param name="count">Samples.</param>
    public void Run(LiveMove control, double hertz, int count)
    {
        offset.Aim(control.Volts);
        depth.Aim(control.Depth);
        if (shape.IsTriangle != control.IsTriangle)
            shape = shape with { IsTriangle = control.IsTriangle };
        double step = (control.Ratio > 0 ? control.Ratio * hertz : control.Hertz) / rate / 2;
        bool isStill = !offset.Moves && !depth.Moves && depth.Value == 0;
        for (int i = 0; i <= 2 * count; i++)
        {
            Volts[i] = stands + offset.Value + (isStill ? 0 : depth.Value * shape.At(phase + i * step));
            if (i == 2 * count || isStill)
                continue;
            offset.Step();
            depth.Step();
        }
        phase += 2 * count * step;
        phase -= Math.Floor(phase);
    }
}
