using System.Collections.Immutable;
using Consort.Engine.Circuit;
using Consort.Engine.Design;

namespace Consort.Engine.Pitch;

/// <summary>Trims every oscillator of a voice: leads first, since their trims reach their followers through the link,
/// then all others, each for itself.</summary>
internal static class VoiceTrimming
{
    /// <summary>Trims; the positions stay set in the voice.</summary>
    public static (ImmutableArray<TrimResult> Results, SolveFailure? Failure) Run(PlayedVoice voice, int threads)
    {
        Dictionary<string, ImmutableArray<TrimResult>> results = [];
        foreach (bool lead in (bool[])[true, false])
        {
            Oscillator[] group = [.. voice.Oscillators.Where(oscillator => voice.Voice.IsLead(oscillator.Name) == lead)];
            (ImmutableArray<TrimResult> Results, SolveFailure? Failure)[] done = new (ImmutableArray<TrimResult>, SolveFailure?)[group.Length];
            ParallelWork.Each(group.Length, threads, i => done[i] = TrimOne(voice.Twin(), group[i]), voice.Cancel);
            if (done.FirstOrDefault(d => d.Failure is not null).Failure is { } failure)
                return ([], failure);
            for (int i = 0; i < group.Length; i++)
            {
                results[group[i].Name] = done[i].Results;
                foreach (TrimResult trim in done[i].Results)
                    voice.Circuit[group[i].Part(trim.Trimmer), "position"] = trim.Position;
            }
        }
        return ([.. voice.Oscillators.SelectMany(oscillator => results[oscillator.Name])], null);
    }

    /// <summary>Oscillators in the order in which they are trimmed one by one: leads first.</summary>
    public static int[] Order(PlayedVoice voice) => [.. Enumerable.Range(0, voice.Oscillators.Length).OrderBy(o => voice.Voice.IsLead(voice.Oscillators[o].Name) ? 0 : 1)];

    /// <summary>Trims one after the other, by readers that are prepared for the voice itself, one for each oscillator.</summary>
    /// <param name="lesson">What is known of trimming one like it; null for nothing.</param>
    /// <returns>By oscillator, trimmed.</returns>
    public static (NominalTrim[]? Trims, SolveFailure? Failure) Run(PlayedVoice voice, SoloOscillator[] solos, Func<Oscillator, TrimLesson?> lesson)
    {
        NominalTrim[] trims = [.. solos.Select(solo => new NominalTrim(voice, solo))];
        foreach (int o in Order(voice))
            if (((lesson(voice.Oscillators[o]) is { } learned ? trims[o].BeginBy(learned) : null) ?? trims[o].Run().Failure) is { } failure)
                return (null, failure);
        return (trims, null);
    }

    private static (ImmutableArray<TrimResult> Results, SolveFailure? Failure) TrimOne(PlayedVoice twin, Oscillator oscillator)
    {
        SoloOscillator solo = new(twin, oscillator);
        return solo.Prepare(twin.MiddleVolts) is { } failure ? ([], failure) : new NominalTrim(twin, solo).Run();
    }

    /// <summary>The voice as its file would say it with the trimmers where they came to stand.</summary>
    public static Voice WithTrims(Voice voice, ImmutableArray<TrimResult> trims) =>
        voice with
        {
            Members =
            [
                .. voice.Members.Select(member =>
                    member with
                    {
                        Set = member.Set.SetItems(
                            trims
                                .Where(trim => trim.Oscillator == member.Name)
                                .Select(trim => KeyValuePair.Create(trim.Trimmer, trim.Position))
                        ),
                    }
                ),
            ],
        };
}
