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
        string member = voice.Oscillators[oscillator].Member.Name;
        return $"{OfModule(voice, oscillator)} {voice.Voice.IsLead(member)} {voice.Voice.IsFollower(member)}";
    }

    /// <summary>Of its module and controls alone, wherever it stands in a link.</summary>
    public static string OfModule(PlayedVoice voice, int oscillator)
    {
        Member member = voice.Oscillators[oscillator].Member;
        HashSet<string> trimmed = [.. member.Module.Trims.Where(step => step.Purpose != TrimPurpose.Other).Select(step => step.Trimmer)];
        IEnumerable<string> set =
            from moved in MemberParts.Moved(member)
            where !trimmed.Contains(moved.Control)
            select string.Create(CultureInfo.InvariantCulture, $"{moved.Control}={moved.Position:R}");
        return $"{member.Module.At.File} {member.Module.Name} {string.Join(' ', set.Order(StringComparer.Ordinal))}";
    }

    /// <summary>By oscillator: the first one of its kind.</summary>
    public static int[] Firsts(PlayedVoice voice)
    {
        string[] kinds = [.. voice.Oscillators.Select((_, o) => Of(voice, o))];
        return [.. kinds.Select(kind => Array.IndexOf(kinds, kind))];
    }
}
