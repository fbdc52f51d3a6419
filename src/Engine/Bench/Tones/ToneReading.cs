using System.Collections.Immutable;
using Consort.Engine.Quantities;

namespace Consort.Engine.Bench.Tones;

/// <summary>What was heard of one steady note.</summary>
/// <param name="Frequency">By the recorder's clock.</param>
/// <param name="Uncertainty">Standard uncertainty of it, Hz: from the noise beside the note by the Cramér-Rao bound,
/// times <paramref name="Excess"/>. The clock's own is not in it.</param>
/// <param name="Excess">How much further the note's phase strayed than noise explains, at least 1.</param>
/// <param name="DriftCents">Change of pitch from beginning to end, cents.</param>
/// <param name="SignalToNoise">Power of the note over that of what is left beside note and hum, dB.</param>
/// <param name="HumShare">Level of mains hum against the note, dB; null when none was found.</param>
/// <param name="Harmonics">Those that stand out of the noise.</param>
public sealed record ToneReading(
    Hertz Frequency,
    double Uncertainty,
    double Excess,
    double DriftCents,
    double SignalToNoise,
    double? HumShare,
    ImmutableArray<Harmonic> Harmonics
)
{
    /// <summary>The standard uncertainty as a pitch, cents.</summary>
    public double UncertaintyCents => 1200 / Math.Log(2) * Uncertainty / Frequency.Value;
}

/// <summary>One multiple of a note: Amplitude·cos(2π·Number·f·t + Phase), t from the middle of the recording.</summary>
/// <param name="Number">1 is the note's own frequency.</param>
/// <param name="Amplitude">Peak, in units of digital full scale.</param>
/// <param name="Phase">rad.</param>
public readonly record struct Harmonic(int Number, double Amplitude, double Phase);

/// <summary>Two notes near unison that sounded together.</summary>
/// <param name="Low">The lower one.</param>
/// <param name="High">The higher one.</param>
/// <param name="Beat">How often they beat.</param>
/// <param name="BeatUncertainty">Standard uncertainty of it, Hz; the two frequencies' errors hang together.</param>
public sealed record PairReading(ToneReading Low, ToneReading High, Hertz Beat, double BeatUncertainty)
{
    /// <summary>The interval between them.</summary>
    public Cents Interval => Cents.Between(Low.Frequency, High.Frequency);
}

/// <summary>Whose hum may be in a recording.</summary>
public enum Mains
{
    /// <summary>50 Hz or 60 Hz, whichever is found.</summary>
    Either,

    /// <summary>50 Hz.</summary>
    Fifty,

    /// <summary>60 Hz.</summary>
    Sixty,

    /// <summary>None: what there is counts as noise.</summary>
    None,
}
