using System.Collections.Immutable;
using Consort.Engine.Sound.Laws;
using Consort.Engine.Sound.Spectra;

namespace Consort.Engine.Sound.Playing;

/// <summary>What was played and how loud it came out.</summary>
/// <param name="Voice">The voice's name.</param>
/// <param name="Settings">How it was played.</param>
/// <param name="Laws">What was read of its oscillators.</param>
/// <param name="Range">Lowest and highest control voltage, the strips' intervals included, V.</param>
/// <param name="Seconds">Length.</param>
/// <param name="PeakVolts">Highest peak of both sides, V at the mixer's output.</param>
/// <param name="RmsVolts">Root mean square of both sides, V.</param>
/// <param name="VoltsAtFullScale">Which voltage the file's full scale is.</param>
public sealed record PlayedSound(
    string Voice,
    SoundSettings Settings,
    ImmutableArray<SoundLaw> Laws,
    (double Low, double High) Range,
    double Seconds,
    double PeakVolts,
    double RmsVolts,
    double VoltsAtFullScale
)
{
    /// <summary>Highest peak against full scale, dB.</summary>
    public double PeakDb => Decibels.Of(PeakVolts / VoltsAtFullScale);

    /// <summary>Root mean square against a full-scale sine's, dB (AES17).</summary>
    public double RmsDb => Decibels.Of(Math.Sqrt(2) * RmsVolts / VoltsAtFullScale);

    /// <summary>Level of a sine that fills full scale, dBu.</summary>
    public double DbuAtFullScale => Decibels.Dbu(VoltsAtFullScale / Math.Sqrt(2));

    /// <summary>Measures a rendering.</summary>
    public static PlayedSound Of(Rendering sound, double voltsAtFullScale)
    {
        double squares = 0;
        for (int n = 0; n < sound.Left.Length; n++)
            squares += 0.5 * ((double)sound.Left[n] * sound.Left[n] + (double)sound.Right[n] * sound.Right[n]);
        double rms = Math.Sqrt(squares / Math.Max(1, sound.Left.Length));
        return new(sound.Voice, sound.Settings, sound.Laws, sound.Range, (double)sound.Left.Length / sound.Settings.Rate, sound.Peak, rms, voltsAtFullScale);
    }
}
