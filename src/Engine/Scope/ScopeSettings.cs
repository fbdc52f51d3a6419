using System.Collections.Immutable;

namespace Consort.Engine.Scope;

/// <summary>How a sweep is taken.</summary>
/// <param name="Play">Voltage on every keyboard, V.</param>
/// <param name="SecondsPerDivision">Null: so that three periods of the slowest oscillator fit.</param>
/// <param name="VoltsPerDivision">For every channel; null: the finest of 1, 2, 5 at which each trace fits.</param>
/// <param name="Trigger">Where it begins.</param>
/// <param name="Settle">How long the voice runs before, s; null: four periods of the slowest oscillator.</param>
public sealed record ScopeSettings(
    double Play,
    double? SecondsPerDivision = null,
    double? VoltsPerDivision = null,
    Trigger? Trigger = null,
    double? Settle = null
)
{
    /// <summary>Divisions of the time axis.</summary>
    public const int Divisions = 10;
}

/// <summary>One channel's trace: points that straight lines join.</summary>
/// <param name="Name">Jack or net.</param>
/// <param name="Volts">At each of the record's times.</param>
/// <param name="Lane">Where it is drawn.</param>
/// <param name="Reading">What is read off it.</param>
public sealed record Trace(string Name, double[] Volts, Lane Lane, WaveReading Reading);

/// <summary>What a sweep showed.</summary>
/// <param name="Voice">The voice's name.</param>
/// <param name="Kelvin">Temperature of all parts.</param>
/// <param name="Play">Voltage on every keyboard, V.</param>
/// <param name="Times">Moments of the record against the trigger, s: the run's own steps and an even grid.</param>
/// <param name="From">Where the sweep shown begins, s.</param>
/// <param name="SecondsPerDivision">Of the time axis.</param>
/// <param name="Traces">One for each channel.</param>
/// <param name="TriggerText">In words.</param>
/// <param name="Triggered">False when the trigger never came; the sweep then begins anywhere.</param>
/// <param name="Steps">Accepted steps of the run.</param>
public sealed record ScopeRecord(
    string Voice,
    double Kelvin,
    double Play,
    double[] Times,
    double From,
    double SecondsPerDivision,
    ImmutableArray<Trace> Traces,
    string TriggerText,
    bool Triggered,
    long Steps
)
{
    /// <summary>Where the sweep shown ends, s.</summary>
    public double To => From + ScopeSettings.Divisions * SecondsPerDivision;

    /// <summary>Indices of the moments that are shown, as the sweep's files list them.</summary>
    public IEnumerable<int> Moments => Enumerable.Range(0, Times.Length).Where(i => Times[i] >= From && Times[i] <= To);

    /// <summary>Time against the trigger and voltage of the points of one trace that are shown, one more at either side.</summary>
    public IEnumerable<(double Time, double Volts)> Shown(Trace trace)
    {
        for (int i = 0; i < Times.Length; i++)
            if ((i + 1 >= Times.Length || Times[i + 1] >= From) && (i == 0 || Times[i - 1] <= To))
                yield return (Times[i], trace.Volts[i]);
    }
}
