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

    /// <summary>Measures rendered sides, and scales them so that the highest peak stands at a level.</summary>
    public static PlayedSound Of(
        string voice,
        SoundSettings settings,
        ImmutableArray<SoundLaw> laws,
        (double Low, double High) range,
        ReadOnlySpan<float> left,
        ReadOnlySpan<float> right,
        double level
    )
    {
        (double peak, double squares) = (0, 0);
        for (int n = 0; n < left.Length; n++)
        {
            peak = Math.Max(peak, Math.Max(Math.Abs(left[n]), Math.Abs(right[n])));
            squares += 0.5 * ((double)left[n] * left[n] + (double)right[n] * right[n]);
        }
        return new(voice, settings, laws, range, (double)left.Length / settings.Rate, peak, Math.Sqrt(squares / Math.Max(1, left.Length)), peak > 0 ? peak / level : 1);
    }
}
