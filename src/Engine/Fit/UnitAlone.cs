using System.Collections.Immutable;
using Consort.Engine.Design;

namespace Consort.Engine.Fit;

/// <summary>One unit on the bench: played by the voice's keyboard through its own resistance, fed by the voice's supply, a
/// follower on the link of its lead.</summary>
internal static class UnitAlone
{
    private const double CordLength = 0.3; // m; what a bench cord adds is nothing at rest

    /// <summary>The voice with that member alone. Intervals at which it stands in the voice are set in playing: it is trimmed to its
    /// module's own law.</summary>
    public static Voice Of(Voice voice, Member member)
    {
        Ribbon? ribbon = voice.RibbonTo(member.Name);
        Member? lead = ribbon is null ? null : voice.Members.First(other => other.Name == ribbon.From.Owner);
        Member played = lead ?? member;
        Player keyboard = voice.Players.FirstOrDefault(player => player.IsPitch) ?? new("keyboard", true, 0, 0, 9, 0, member.At);
        return voice with
        {
            Members = [.. (lead is null ? new[] { member } : [lead, member]).Select(one => one with { StandsCents = 0 })],
            Players = [keyboard],
            Multiples = [],
            Cords = played.Module.Pitch?.Control is { } jack ? [new(new(keyboard.Name, "out"), new(played.Name, jack), CordLength, member.At)] : [],
            Ribbons = ribbon is null ? [] : [ribbon with { To = [ribbon.To.First(to => to.Owner == member.Name)] }],
            Plan = null,
        };
    }
}
