using System.Collections.Immutable;
using Consort.Engine.Bench.Tones;

namespace Consort.Engine.Bench.Readings;

/// <summary>What a person says beside the files.</summary>
/// <param name="Controls">Control voltages of the notes of a recording, in order, V; null: the nearest whole octaves.</param>
/// <param name="ControlWithin">Limit of how far control voltages may be off, V.</param>
/// <param name="Kelvin">Temperature of the unit, where no file says it.</param>
/// <param name="FullScaleVolts">Voltage at the recorder's digital full scale; null when it is not known.</param>
/// <param name="Pair">True when two oscillators sound together.</param>
/// <param name="Mains">Hum to allow for.</param>
/// <param name="Channel">Of recordings, from 1.</param>
/// <param name="Reference">A tone that the same recorder took; null when there is none.</param>
/// <param name="Sync">What recordings under sync need beside themselves; null: recordings hold notes.</param>
/// <param name="Stands">Where trimmers stand at the last file's readings, where that file does not say it; null: nothing is said.</param>
public sealed record ReadingOptions(
    IReadOnlyList<double>? Controls = null,
    double ControlWithin = 0,
    double? Kelvin = null,
    double? FullScaleVolts = null,
    bool Pair = false,
    Mains Mains = Mains.Either,
    int Channel = 1,
    ReferenceTone? Reference = null,
    SyncedSweep? Sync = null,
    ImmutableDictionary<string, TrimmerStand>? Stands = null
);

/// <summary>A tone of known frequency in a recording.</summary>
/// <param name="File">The recording.</param>
/// <param name="Hertz">Its frequency.</param>
/// <param name="Within">Limit of how far that may be off, a ratio.</param>
public sealed record ReferenceTone(string File, double Hertz, double Within);

/// <summary>Recordings are of a follower that is swept past its lead, or the lead past it.</summary>
/// <param name="LeadChannel">The lead's channel of them, from 1.</param>
/// <param name="Unsynced">Recording of the same sweep, or of the note that the follower stands at, with sync off.</param>
public sealed record SyncedSweep(int LeadChannel, string Unsynced);
