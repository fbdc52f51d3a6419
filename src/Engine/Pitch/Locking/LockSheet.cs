using System.Collections.Immutable;
using Consort.Engine.Circuit;
using Consort.Engine.Design;

namespace Consort.Engine.Pitch.Locking;

/// <summary>Where a voice's oscillators lock though nobody asked them to.</summary>
/// <param name="Voice">Its name.</param>
/// <param name="Kelvin">Temperature.</param>
/// <param name="Pairs">All pairs near a ratio, by note and pair.</param>
/// <param name="Checks">Those that were also read off the whole circuit with both in motion: the widest range
/// of the highest note, where the two could be kept at their phase.</param>
/// <param name="Truncation">Largest share of a phase response that was lost.</param>
/// <param name="LeftOut">How many pairs are meant to stand near no ratio that is looked at.</param>
public sealed record LockSheet(string Voice, double Kelvin, ImmutableArray<PairLock> Pairs, ImmutableArray<LockCheck> Checks, double Truncation, int LeftOut)
{
    /// <summary>False when a pair that is meant to stand apart locks.</summary>
    public bool Passed => !Pairs.Any(pair => pair.Stands != 0 && pair.LocksAt(pair.Stands));

    /// <summary>The checks' largest error, a share; null where none was made.</summary>
    public double? WorstError => Checks.IsEmpty ? null : Checks.Max(check => Math.Abs(check.Error));

    /// <summary>The notes that are looked at when none is named: each octave of the limits.</summary>
    public static ImmutableArray<double> Octaves(Voice voice)
    {
        double octave = voice.Members.Select(member => member.Module.Pitch).First(pitch => pitch is not null)!.VoltsPerOctave;
        return [.. Enumerable.Range(0, (int)voice.Limits.Octaves + 1).Select(i => voice.Limits.LowestVoltage + i * octave)];
    }

    /// <summary>Reads it.</summary>
    /// <param name="threads">How many may work; the result does not depend on it.</param>
    public static (LockSheet? Sheet, SolveFailure? Failure) Of(
        PlayedVoice voice,
        ImmutableArray<double> notes,
        int threads,
        IProgress<(string Stage, double Done)>? progress = null,
        CancellationToken cancel = default
    )
    {
        LockReader reader = new(voice, threads);
        ImmutableArray<PairLock>.Builder pairs = ImmutableArray.CreateBuilder<PairLock>();
        for (int i = 0; i < notes.Length; i++)
        {
            progress?.Report(("lock ranges", 0.8 * i / notes.Length));
            (ImmutableArray<PairLock> read, SolveFailure? failure) = reader.At(notes[i], cancel);
            if (failure is not null)
                return (null, failure);
            pairs.AddRange(read);
        }
        ImmutableArray<LockCheck> checks = [];
        // At the highest note edges that meet take the largest share of a turn: there the two can be kept at their phase.
        if (pairs.Where(pair => pair.Volts == notes.Max()).MaxBy(pair => pair.Width) is { Width: > 0 } widest)
        {
            progress?.Report(("both in motion", 0.8));
            (LockCheck? check, SolveFailure? broken) = LockCheck.Run(voice, widest, threads, cancel: cancel);
            if (broken is not null)
                return (null, broken);
            checks = check is null ? [] : [check];
        }
        return (new(voice.Voice.Name, voice.Circuit.Temperature, pairs.ToImmutable(), checks, reader.Truncation, reader.LeftOut), null);
    }
}
