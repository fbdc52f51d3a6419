using System.Collections.Immutable;
using Consort.Engine.Bench.Recordings;
using Consort.Engine.Bench.Sync;
using Consort.Engine.Bench.Tones;
using Consort.Engine.Design;

namespace Consort.Engine.Bench.Readings;

/// <summary>Everything read of a unit in one sitting: tables and recordings, the recorder's clock set right first.</summary>
public static class Sitting
{
    /// <summary>Reads all files; null with every mistake when any is wrong. Notes alone leave the readings standing.</summary>
    /// <param name="unit">Which unit.</param>
    /// <param name="law">What its pitch should be.</param>
    /// <param name="files">Tables and recordings.</param>
    /// <param name="options">What a person says beside them.</param>
    /// <param name="trimmers">Designators that may head a column of a table: where that trimmer stood.</param>
    public static (ReadingSet? Set, ImmutableArray<InputError> Errors) Read(UnitName unit, PitchSpec law, IReadOnlyList<string> files, ReadingOptions options, IReadOnlyList<string>? trimmers = null)
    {
        ErrorList errors = new();
        bool hears = files.Any(IsRecording);
        RecorderClock clock = !hears ? RecorderClock.None : options.Reference is { } reference ? Clock(reference, options, errors) : RecorderClock.Unknown;
        List<UnitReading> readings = [];
        List<SyncReading> syncs = [];
        int last = 0;
        foreach (string file in files)
        {
            last = readings.Count;
            if (options.Sync is { } sync && IsRecording(file))
                syncs.AddRange(Sweep(file, sync, options.Channel, clock, errors));
            else
                readings.AddRange(One(file, law, options, clock, trimmers ?? [], errors));
        }
        ImmutableArray<UnitReading> sorted = [.. readings.Select((reading, i) => reading with { Place = i, Stands = i < last || options.Stands is null ? reading.Stands : options.Stands.SetItems(reading.Stands) }).OrderBy(reading => reading.Kelvin ?? 0).ThenBy(reading => reading.Control.Value)];
        return (errors.Mistakes > 0 ? null : new(unit, clock, sorted, Notes(clock, hears, options)) { Syncs = [.. syncs] }, errors.InOrder());
    }

    private static List<UnitReading> One(string file, PitchSpec law, ReadingOptions options, RecorderClock clock, IReadOnlyList<string> trimmers, ErrorList errors)
    {
        if (IsRecording(file))
            return Recording.Read(file, options.Channel, errors) is { } recording ? new HeardReadings(recording, law, options, clock, errors).Read() : [];
        string name = file.Replace('\\', '/');
        if (Path.GetExtension(file).ToLowerInvariant() is ".csv" or ".txt" or ".tsv")
            return SourceText.Read(file, name, errors) is { } source ? ReadingTable.Read(source, options.ControlWithin, options.Kelvin, errors, trimmers) : [];
        errors.Add(ErrorCodes.FileKind, new(name, 0, 0, 0), $"{name} is neither a table nor a recording", "give readings as .csv, recordings as .wav");
        return [];
    }

    private static IEnumerable<SyncReading> Sweep(string file, SyncedSweep sync, int channel, RecorderClock clock, ErrorList errors)
    {
        Recording? follower = Recording.Read(file, channel, errors), lead = Recording.Read(file, sync.LeadChannel, errors), free = Recording.Read(sync.Unsynced, channel, errors);
        if (follower is null || lead is null || free is null)
            yield break;
        (SyncReading? reading, string? why) = new SweepReader(clock).Read(follower, lead, free);
        if (reading is null)
            errors.Add(ErrorCodes.NoNote, new(follower.File, 0, 0, 0), $"{follower.File}: {why}", "record follower and lead on two channels while one of them is swept slowly, and the follower once more with sync off");
        else
            yield return reading;
    }

    private static bool IsRecording(string file) => Path.GetExtension(file).ToLowerInvariant() is ".wav" or ".wave";

    private static RecorderClock Clock(ReferenceTone reference, ReadingOptions options, ErrorList errors)
    {
        const double Likely = 0.02; // no crystal is further off: it is another tone
        if (Recording.Read(reference.File, options.Channel, errors) is not { } recording)
            return RecorderClock.Unknown;
        SourceSpan at = new(recording.File, 0, 0, 0);
        NoteSpan[] notes = [.. NoteFinder.Find(recording.Samples, recording.Rate).OrderByDescending(note => note.Count).Take(1)];
        (ToneReading? tone, _) = notes.Length == 0
            ? (null, null)
            : ToneEstimator.One(recording.Samples.AsSpan(notes[0].Start, notes[0].Count), recording.Rate, options.Mains, recording.Step);
        if (tone is null)
            errors.Add(ErrorCodes.NoNote, at, $"{recording.File} holds no steady reference tone", "record the reference for some seconds, alone");
        else if (Math.Abs(tone.Frequency.Value / reference.Hertz - 1) > Likely)
            errors.Add(ErrorCodes.OutOfRange, at, $"the reference tone is heard at {tone.Frequency.Value:0.###} Hz, not near {reference.Hertz:0.###} Hz",
                "name the tone's true frequency: --reference-frequency \"440 Hz\"");
        else
            return RecorderClock.Against(tone, reference.Hertz, reference.Within);
        return RecorderClock.Unknown;
    }

    private static ImmutableArray<string> Notes(RecorderClock clock, bool hears, ReadingOptions options)
    {
        List<string> notes = [];
        if (hears && !clock.IsCalibrated)
            notes.Add($"The recorder's clock was compared with nothing: all frequencies may be off together by some {clock.UncertaintyCents:0.0} cents. --reference sets it right.");
        if (options.ControlWithin == 0)
            notes.Add("Control voltages are taken as exact; 1 mV is 1.2 cents at 1 V/octave. --control-within says how far they may be off.");
        return [.. notes];
    }
}
