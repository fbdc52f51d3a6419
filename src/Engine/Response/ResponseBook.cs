using System.Collections.Immutable;

namespace Consort.Engine.Response;

/// <summary>What can be asked of an oscillator.</summary>
public enum SheetKind
{
    /// <summary>Pulse width against what moves it.</summary>
    Width,
    /// <summary>Frequency against the voltage at an input: linear and exponential modulation.</summary>
    Frequency,
    /// <summary>How far apart it may stand and still follow a sync.</summary>
    Sync,
    /// <summary>Wave shapes over temperature and trim.</summary>
    Waves,
    /// <summary>Output levels under load.</summary>
    Levels,
}

/// <summary>A sheet that has nothing to say of an oscillator, and why.</summary>
public sealed record AbsentSheet(SheetKind Kind, string Reason);

/// <summary>How one oscillator answers to what moves it.</summary>
/// <param name="Oscillator">Its name in the voice.</param>
/// <param name="Module">The design that it is built to.</param>
/// <param name="Hertz">Its frequency with nothing moved.</param>
/// <param name="Outputs">Its output jacks.</param>
/// <param name="Effects">What each control and jack moves.</param>
public sealed record OscillatorResponse(string Oscillator, string Module, double Hertz, ImmutableArray<string> Outputs, ImmutableArray<DriveEffect> Effects)
{
    /// <summary>Pulse widths.</summary>
    public ImmutableArray<WidthSheet> Widths { get; init; } = [];

    /// <summary>Frequency modulation.</summary>
    public ImmutableArray<FrequencySheet> Frequencies { get; init; } = [];

    /// <summary>Sync.</summary>
    public ImmutableArray<SyncSheet> Syncs { get; init; } = [];

    /// <summary>Wave shapes.</summary>
    public ImmutableArray<WaveSheet> Waves { get; init; } = [];

    /// <summary>Levels.</summary>
    public ImmutableArray<LevelSheet> Levels { get; init; } = [];

    /// <summary>What does not apply to it.</summary>
    public ImmutableArray<AbsentSheet> Absent { get; init; } = [];
}

/// <summary>How a voice's oscillators answer to what moves them.</summary>
/// <param name="Voice">Its name.</param>
/// <param name="Kelvin">Temperature of all parts.</param>
/// <param name="Play">On every keyboard, V.</param>
/// <param name="Swing">Jacks were driven from −swing to +swing, V.</param>
/// <param name="Modulator">Frequency of a modulating wave, Hz.</param>
/// <param name="Oscillators">In panel order.</param>
public sealed record ResponseBook(string Voice, double Kelvin, double Play, double Swing, double Modulator, ImmutableArray<OscillatorResponse> Oscillators);
