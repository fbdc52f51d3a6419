using System.Globalization;
using Consort.Engine.Circuit.Wiring;
using Consort.Engine.Design;

namespace Consort.Engine.Pitch.Builds.Cores;

/// <summary>What oscillators have in common whose cores are alike: module, controls, and place in a link. Their trimmers may stand
/// differently.</summary>
internal static class CoreKind
{
    /// <summary>Of one oscillator of a voice.</summary>
    public static string Of(PlayedVoice voice, int oscillator)
    {
        Member member = voice.Oscillators[oscillator].Member;
        HashSet<string> trimmed = [.. member.Module.Trims.Where(step => step.Purpose != TrimPurpose.Other).Select(step => step.Trimmer)];
        IEnumerable<string> set =
            from moved in MemberParts.Moved(member)
            where !trimmed.Contains(moved.Control)
            select string.Create(CultureInfo.InvariantCulture, $"{moved.Control}={moved.Position:R}");
        return $"{member.Module.At.File} {member.Module.Name} {string.Join(' ', set.Order(StringComparer.Ordinal))} {voice.Voice.IsLead(member.Name)} {voice.Voice.IsFollower(member.Name)}";
    }

    /// <summary>By oscillator: the first one of its kind.</summary>
    public static int[] Firsts(PlayedVoice voice)
    {
        string[] kinds = [.. voice.Oscillators.Select((_, o) => Of(voice, o))];
        return [.. kinds.Select(kind => Array.IndexOf(kinds, kind))];
    }
}
