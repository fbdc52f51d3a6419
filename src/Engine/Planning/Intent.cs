using System.Collections.Immutable;
using Consort.Engine.Design;

namespace Consort.Engine.Planning;

/// <summary>What is wanted of a voice, whatever way it is wired.</summary>
/// <param name="Oscillators">Those wanted.</param>
/// <param name="Wishes">What reaches which of them.</param>
/// <param name="Case">What it is to fit.</param>
public sealed record Intent(ImmutableArray<PlannedOscillator> Oscillators, ImmutableArray<Wish> Wishes, RackCase Case)
{
    /// <summary>The intentions that the voice's file states; what it does not state its wiring shows.</summary>
    public static Intent Of(Voice voice, LinkBook links)
    {
        bool isStated = voice.Plan is { Oscillators.IsEmpty: false };
        return new(
            isStated ? voice.Plan!.Oscillators : Shown(voice),
            isStated ? voice.Plan!.Wishes : [.. Reached(voice, links)],
            voice.Plan?.Case ?? RackCase.Any
        );
    }

    private static ImmutableArray<PlannedOscillator> Shown(Voice voice) =>
        [.. voice.Members.Where(member => member.Module.Pitch is not null).Select(member => new PlannedOscillator(member.Name, member.StandsCents))];

    // Along cords and multiples to inputs, and from a lead's inputs along its ribbon to all whom the link carries it to.
    private static IEnumerable<Wish> Reached(Voice voice, LinkBook links)
    {
        ILookup<string, Cord> cords = voice.Cords.ToLookup(cord => cord.From.Owner);
        foreach (Player player in voice.Players)
            foreach (IGrouping<string, JackName> label in Inputs(player.Name).GroupBy(jack => jack.Label))
                yield return new(player.Name, label.Key, [.. label.SelectMany(jack => Carried(voice, jack, links)).Distinct()]);

        IEnumerable<JackName> Inputs(string owner) =>
            cords[owner].SelectMany(cord => voice.Multiples.Any(multiple => multiple.Name == cord.To.Owner) ? Inputs(cord.To.Owner) : [cord.To]);
    }

    private static IEnumerable<string> Carried(Voice voice, JackName jack, LinkBook links)
    {
        yield return jack.Owner;
        Member lead = voice.Members.First(member => member.Name == jack.Owner);
        foreach (Ribbon ribbon in voice.Ribbons.Where(ribbon => ribbon.From.Owner == jack.Owner))
            foreach (JackName follower in ribbon.To)
                if (links.Of(lead.Module, voice.Members.First(member => member.Name == follower.Owner).Module).Contains(jack.Label))
                    yield return follower.Owner;
    }
}
