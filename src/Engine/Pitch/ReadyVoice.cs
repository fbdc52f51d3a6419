using System.Collections.Immutable;
using Consort.Engine.Circuit;
using Consort.Engine.Design;
using Consort.Engine.Pitch.Builds;
using Consort.Engine.Pitch.Builds.Spread;

namespace Consort.Engine.Pitch;

/// <summary>A build to be looked at: the same that the spread of that seed holds under that number.</summary>
/// <param name="Stock">The shelf that its parts come from.</param>
/// <param name="Number">Counted from 0.</param>
/// <param name="Seed">That builds are drawn from.</param>
public sealed record BuildPick(Stock Stock, long Number, ulong Seed = 1);

/// <summary>Makes a voice ready to be played: trimmed with its controls as the files have them, as on the bench, and only
/// then with its controls moved.</summary>
public static class ReadyVoice
{
    /// <summary>A prepared voice with the controls of <paramref name="moved"/>; a trimmer that was moved stays so.</summary>
    /// <param name="written">As its files have it.</param>
    /// <param name="moved">The same with controls moved.</param>
    /// <param name="trims">False leaves all trimmers as they stand.</param>
    /// <param name="kelvin">Temperature at which it is played; trimming is done at 25 °C.</param>
    /// <param name="threads">How many may work; the result does not depend on it.</param>
    public static (PlayedVoice? Voice, SolveFailure? Failure) Of(Voice written, Voice moved, bool trims, double kelvin, int threads)
    {
        Voice ready = moved;
        if (trims)
        {
            (PlayedVoice? bench, ImmutableArray<TrimResult> results, SolveFailure? untrimmed) = Trimmed(written, threads);
            if (bench is null)
                return (null, untrimmed);
            ready = Merge(written, moved, VoiceTrimming.WithTrims(written, results));
        }
        PlayedVoice played = PlayedVoice.Of(ready);
        played.Circuit.SetTemperature(kelvin);
        return played.Prepare() is { } failure ? (null, failure) : (played, null);
    }

    /// <summary>One build of it, trimmed as every build is, and only then with its controls moved.</summary>
    /// <param name="written">As its files have it.</param>
    /// <param name="moved">The same with controls moved.</param>
    /// <param name="pick">Which build.</param>
    /// <param name="kelvin">Temperature at which it is played; trimming is done at 25 °C.</param>
    /// <param name="threads">How many may work; the result does not depend on it.</param>
    public static (PlayedVoice? Voice, SolveFailure? Failure) Of(Voice written, Voice moved, BuildPick pick, double kelvin, int threads)
    {
        (PlayedVoice? bench, _, SolveFailure? untrimmed) = Trimmed(written, threads);
        if (bench is null)
            return (null, untrimmed);
        DesignReadings readings = new(bench, [Prover.BenchKelvin, written.Limits.ColdKelvin, written.Limits.WarmKelvin], Prover.Notes(written));
        (VoiceBuilds? builds, SolveFailure? unready) = VoiceBuilds.Find(bench, pick.Stock, readings, threads);
        if (builds is null)
            return (null, unready);
        BuiltUnit unit = BuiltUnit.Make(builds, SpreadStudy.Points(builds, pick.Seed), pick.Number);
        PlayedVoice played = WithControls(unit.Voice, PlayedVoice.Of(written), PlayedVoice.Of(moved));
        played.Circuit.SetTemperature(kelvin);
        return played.Prepare() is { } failure ? (null, failure) : (played, null);
    }

    // Every number of the build but those that moving the controls changed.
    private static PlayedVoice WithControls(PlayedVoice build, PlayedVoice written, PlayedVoice moved)
    {
        for (int b = 0; b < moved.Circuit.Banks.Count; b++)
            foreach (string word in moved.Circuit.Banks[b].Words)
            {
                double[] to = moved.Circuit.Banks[b].Numbers(word);
                double[] from = build.Circuit.Banks[b].Numbers(word);
                double[] was = written.Circuit.Banks[b].Numbers(word);
                for (int i = 0; i < to.Length; i++)
                    if (to[i].Equals(was[i]))
                        to[i] = from[i];
            }
        return moved;
    }

    /// <summary>A voice as its files have it, wired up, prepared and trimmed on the bench, with where its trimmers came to stand.</summary>
    /// <param name="voice">One with an oscillator.</param>
    /// <param name="threads">How many may work; the result does not depend on it.</param>
    internal static (PlayedVoice? Voice, ImmutableArray<TrimResult> Trims, SolveFailure? Failure) Trimmed(Voice voice, int threads)
    {
        PlayedVoice played = PlayedVoice.Of(voice);
        if (played.Prepare() is { } unready)
            return (null, [], unready);
        (ImmutableArray<TrimResult> trims, SolveFailure? untrimmed) = VoiceTrimming.Run(played, threads);
        return untrimmed is null ? (played, trims, null) : (null, [], untrimmed);
    }

    private static Voice Merge(Voice written, Voice moved, Voice trimmed) =>
        moved with
        {
            Members =
            [
                .. moved.Members.Select((member, i) =>
                    member with
                    {
                        Set = trimmed.Members[i].Set.SetItems(
                            member.Set.Where(set => !written.Members[i].Set.TryGetValue(set.Key, out double before) || before != set.Value)
                        ),
                    }
                ),
            ],
        };
}
