using Consort.Engine.Sound.Oscillators;
using Consort.Engine.Sound.Playing;

namespace Consort.Engine.Sound.Live;

/// <summary>A strip at work: its oscillator at an interval that moves, its gains to either side.</summary>
internal sealed class LiveOscillator
{
    private const double ForPitch = 4e-3; // s
    private const double ForGains = 10e-3;

    private readonly PlayedOscillator played;
    private readonly double voltsPerCent;
    private readonly SmoothValue cents;
    private readonly SmoothValue left;
    private readonly SmoothValue right;
    private readonly double[] volts = new double[2 * SoundOscillator.Block + 1];
    private readonly double[] block = new double[SoundOscillator.Block];

    /// <summary>One that starts where its controls stand.</summary>
    public LiveOscillator(PlayedOscillator played, double voltsPerOctave, LiveStrip control, int rate)
    {
        (this.played, voltsPerCent) = (played, voltsPerOctave / 1200);
        cents = new(control.Cents, ForPitch, 2.0 * rate);
        (double l, double r) = Sides(control);
        (left, right) = (new(l, ForGains, rate), new(r, ForGains, rate));
    }

    /// <summary>Moments at which the last block's phase went through 0.</summary>
    public IReadOnlyList<double> Turns => played.Turns;

    /// <summary>By how many samples its wave comes out late.</summary>
    public int Late => played.Late;

    /// <summary>Adds a block.</summary>
    /// <param name="control">Where its controls stand.</param>
    /// <param name="key">The keyboard's voltage: one that holds, or one for each half sample.</param>
    /// <param name="moved">The players' voltages.</param>
    /// <param name="pulls">The lead's turns.</param>
    /// <param name="mixLeft">The mix so far; its length is the block's.</param>
    /// <param name="mixRight">The other side's.</param>
    public void Add(LiveStrip control, ReadOnlySpan<double> key, double[][] moved, IReadOnlyList<double> pulls, Span<double> mixLeft, Span<double> mixRight)
    {
        int count = mixLeft.Length;
        cents.Aim(control.Cents);
        (double toLeft, double toRight) = Sides(control);
        left.Aim(toLeft);
        right.Aim(toRight);
        played.Render(Voltages(key, count), moved, control.IsSynced ? pulls : [], block.AsSpan(0, count));
        for (int n = 0; n < count; n++)
        {
            mixLeft[n] += left.Value * block[n];
            mixRight[n] += right.Value * block[n];
            left.Step();
            right.Step();
        }
    }

    private ReadOnlySpan<double> Voltages(ReadOnlySpan<double> key, int count)
    {
        if (key.Length == 1 && !cents.Moves)
        {
            volts[0] = key[0] + cents.Value * voltsPerCent;
            return volts.AsSpan(0, 1);
        }
        for (int i = 0; i <= 2 * count; i++)
        {
            volts[i] = key[key.Length == 1 ? 0 : i] + cents.Value * voltsPerCent;
            if (i < 2 * count)
                cents.Step();
        }
        return volts.AsSpan(0, 2 * count + 1);
    }

    private static (double Left, double Right) Sides(LiveStrip control) => new Strip("", "", control.Gain, control.Place, 0).Sides;
}
