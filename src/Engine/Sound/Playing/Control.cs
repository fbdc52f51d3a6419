using Consort.Engine.Pitch;
using Consort.Engine.Sound.Laws;

namespace Consort.Engine.Sound.Playing;

/// <summary>What the keyboard sends: the control voltage that follows the keys, and the gate.</summary>
internal sealed class Control(SoundSettings settings, Oscillator first)
{
    private readonly double keep = settings.Glide > 0 ? Math.Exp(-0.5 / (settings.Glide * settings.Rate)) : 0;
    private readonly double up = 1 / Math.Max(1, settings.Attack * settings.Rate);
    private readonly double down = 1 / Math.Max(1, settings.Release * settings.Rate);
    private int touch;
    private double target = double.NaN;
    private bool isHeld;
    private double gain;

    /// <summary>Voltage at the present moment, V; NaN before the first note.</summary>
    public double Volts { get; private set; } = double.NaN;

    /// <summary>True while the voltage moves.</summary>
    public bool Glides => Math.Abs(Volts - target) > 1e-9;

    /// <summary>Takes the touches that are due at a sample; gives the sample at which the next one is.</summary>
    public long Take(long sample)
    {
        for (; touch < settings.Score.Touches.Length && At(touch) <= sample; touch++)
        {
            isHeld = settings.Score.Touches[touch].Key is not null;
            if (settings.Score.Touches[touch].Key is not { } key)
                continue;
            target = LawReader.VoltsOf(first, key) + settings.MovedCents / 1200 * first.Spec.VoltsPerOctave;
            if (double.IsNaN(Volts) || keep == 0)
                Volts = target;
        }
        return touch < settings.Score.Touches.Length ? At(touch) : long.MaxValue;
    }

    /// <summary>Half a sample on.</summary>
    public void Glide() => Volts = Glides ? target + (Volts - target) * keep : target;

    /// <summary>The gate's gain for the next sample.</summary>
    public double Gain() => gain = isHeld ? Math.Min(1, gain + up) : Math.Max(0, gain - down);

    private long At(int i) => (long)Math.Round(settings.Score.Touches[i].Seconds * settings.Rate);
}
