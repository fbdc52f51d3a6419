using System.Collections.Immutable;
using Consort.Engine.Design;
using Consort.Engine.Pitch.Builds.Draws;

namespace Consort.Engine.Pitch.Live;

/// <summary>What of a voice its laws take as given: parts and how they are joined, values that no build varies, notes and
/// temperatures. Limits may differ, and every value that builds vary, and the pitch that is asked; pitch trimmers are set anew
/// wherever they stand.</summary>
internal sealed class VoiceShape
{
    private readonly HashSet<(string Part, string Word)> free;

    /// <summary>Of a voice as its files have it.</summary>
    /// <param name="known">The voice, compiled.</param>
    /// <param name="draws">What varies between its builds.</param>
    public VoiceShape(PlayedVoice known, DrawPlan draws)
    {
        Known = known;
        free = [.. draws.Parameters.Select(p => (p.Part.Name, p.Word))];
        foreach (Oscillator oscillator in known.Oscillators)
            foreach (TrimStep trim in oscillator.Member.Module.Trims.Where(trim => trim.Purpose != TrimPurpose.Other))
                free.Add((oscillator.Part(trim.Trimmer), "position"));
    }

    /// <summary>The voice.</summary>
    public PlayedVoice Known { get; }

    /// <summary>True for a voice that has it too.</summary>
    public bool IsOf(PlayedVoice edited) =>
        edited.Voice.Limits.ColdKelvin == Known.Voice.Limits.ColdKelvin
        && edited.Voice.Limits.WarmKelvin == Known.Voice.Limits.WarmKelvin
        && Prover.Notes(edited.Voice).SequenceEqual(Prover.Notes(Known.Voice))
        && AreSame(edited.Oscillators, Known.Oscillators)
        && AreSame(edited.Circuit.Design.Parts, Known.Circuit.Design.Parts);

    private static bool AreSame(ImmutableArray<Oscillator> edited, ImmutableArray<Oscillator> known) =>
        edited.Length == known.Length && edited.Zip(known).All(pair => IsSame(pair.First, pair.Second));

    private bool AreSame(ImmutableArray<Part> edited, ImmutableArray<Part> known) =>
        edited.Length == known.Length && edited.Zip(known).All(pair => IsSame(pair.First, pair.Second));

    private static bool IsSame(Oscillator edited, Oscillator known) =>
        edited.Name == known.Name
        && edited.TimingCapacitor == known.TimingCapacitor
        && edited.Spec.Net == known.Spec.Net
        && edited.Spec.Level == known.Spec.Level
        && edited.Spec.Rising == known.Spec.Rising
        && edited.Member.Module.Trims.Select(trim => trim with { At = default }).SequenceEqual(known.Member.Module.Trims.Select(trim => trim with { At = default }));

    private bool IsSame(Part edited, Part known)
    {
        if (edited.Name != known.Name || edited.Kind.Word != known.Kind.Word || !edited.Terminals.SequenceEqual(known.Terminals))
            return false;
        foreach ((string word, string text) in known.Texts)
            if (word != "spread" && edited.Texts.GetValueOrDefault(word) != text)
                return false;
        return edited.Numbers.Count == known.Numbers.Count
            && known.Numbers.All(pair => edited.Numbers.TryGetValue(pair.Key, out double value) && (value.Equals(pair.Value) || MayDiffer(known, pair.Key)));
    }

    private bool MayDiffer(Part part, string word) => DrawPlanner.Draws(word) || word == "sigmas" || free.Contains((part.Name, word));
}
