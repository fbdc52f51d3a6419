using System.Collections.Immutable;
using Consort.Engine.Circuit;
using Consort.Engine.Design;

namespace Consort.Engine.Pitch;

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
