using System.Collections.Immutable;
using Consort.Engine.Bench.Sync;
using Consort.Engine.Bench.Tones;
using Consort.Engine.Bench.Waveforms;
using Consort.Engine.Quantities;

namespace Consort.Engine.Bench.Readings;

/// <summary>What a unit did at one control voltage.</summary>
/// <param name="Control">The voltage at its pitch input.</param>
/// <param name="ControlUncertainty">Standard uncertainty of it, V.</param>
/// <param name="Frequency">As it was, the recorder's clock set right.</param>
/// <param name="Uncertainty">Standard uncertainty of it, Hz, without the clock's, which all readings share.</param>
/// <param name="Kelvin">Temperature, K; null when nobody said.</param>
/// <param name="From">Where it comes from: a place in a file.</param>
public sealed record UnitReading(
    Volts Control,
    double ControlUncertainty,
    Hertz Frequency,
    double Uncertainty,
    double? Kelvin,
    string From
)
{
    /// <summary>The note behind it, where it was heard and not written.</summary>
    public HeardNote? Heard { get; init; }

    /// <summary>Where trimmers stood, by designator, as far as it was written down.</summary>
    public ImmutableDictionary<string, TrimmerStand> Stands { get; init; } = ImmutableDictionary<string, TrimmerStand>.Empty;

    /// <summary>Which it was, in the order in which files and rows were given.</summary>
    public int Place { get; init; }

    /// <summary>Standard uncertainty of the reading as a pitch, cents: of the frequency and of the control voltage, which
    /// are independent (JCGM 100:2008, 5.1.2).</summary>
    public double UncertaintyCents(double voltsPerOctave)
    {
        double own = 1200 / Math.Log(2) * Uncertainty / Frequency.Value, control = 1200 * ControlUncertainty / voltsPerOctave;
        return Math.Sqrt(own * own + control * control);
    }
}

/// <summary>Where a trimmer stood at a reading.</summary>
/// <param name="Position">From its counter-clockwise end, 0 to 1; null when only turns since the first reading are known.</param>
/// <param name="Turned">Turns clockwise since the first reading; 0 when the position is known.</param>
public readonly record struct TrimmerStand(double? Position, double Turned);

/// <summary>A note in a recording.</summary>
/// <param name="Start">Where it begins, s.</param>
/// <param name="Length">How long it stood, s.</param>
/// <param name="Tone">What was heard.</param>
/// <param name="Wave">Its wave; null where it slid.</param>
/// <param name="Pair">The two notes, where two were asked for.</param>
public sealed record HeardNote(double Start, double Length, ToneReading? Tone, WaveReading? Wave, PairReading? Pair);

/// <summary>All that was read of a unit in one sitting.</summary>
/// <param name="Unit">Which one.</param>
/// <param name="Clock">The recorder's.</param>
/// <param name="Readings">By control voltage.</param>
/// <param name="Notes">What else there is to say.</param>
public sealed record ReadingSet(UnitName Unit, RecorderClock Clock, ImmutableArray<UnitReading> Readings, ImmutableArray<string> Notes)
{
    /// <summary>How far it held to its lead, by recording.</summary>
    public ImmutableArray<SyncReading> Syncs { get; init; } = [];
}

/// <summary>How a recorder's clock stands against a tone of known frequency.</summary>
/// <param name="Ratio">True frequency over what is heard.</param>
/// <param name="Uncertainty">Standard uncertainty of the ratio; every reading shares it.</param>
/// <param name="IsCalibrated">False when nothing was compared.</param>
public readonly record struct RecorderClock(double Ratio, double Uncertainty, bool IsCalibrated)
{
    // Crystals of sound cards are good to 100 ppm (common practice, no source): evenly likely within it.
    private const double Usual = 100e-6;

    /// <summary>A clock that was compared with nothing.</summary>
    public static RecorderClock Unknown { get; } = new(1, Usual / Math.Sqrt(3), false);

    /// <summary>For readings that no recorder's clock is in.</summary>
    public static RecorderClock None { get; } = new(1, 0, false);

    /// <summary>From a tone of known frequency.</summary>
    /// <param name="heard">As it was heard.</param>
    /// <param name="hertz">As it is, Hz.</param>
    /// <param name="within">Limit of what is known of it, a ratio; evenly likely within (JCGM 100:2008, 4.3.7).</param>
    public static RecorderClock Against(ToneReading heard, double hertz, double within)
    {
        double own = heard.Uncertainty / heard.Frequency.Value, known = within / Math.Sqrt(3);
        return new(hertz / heard.Frequency.Value, Math.Sqrt(own * own + known * known), true);
    }

    /// <summary>How far the clock is off, ppm; positive is fast: it takes more samples in a second than it says.</summary>
    public double Ppm => 1e6 * (Ratio - 1);

    /// <summary>Its uncertainty as a pitch, cents.</summary>
    public double UncertaintyCents => 1200 / Math.Log(2) * Uncertainty;
}
