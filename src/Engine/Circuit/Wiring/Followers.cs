using System.Collections.Immutable;
using System.Globalization;
using Consort.Engine.Design;

namespace Consort.Engine.Circuit.Wiring;

/// <summary>A voice with more or fewer followers on its link.</summary>
public static class Followers
{
    /// <summary>The members that hang on the first ribbon's lead, in the order of its ribbons; none without a link.</summary>
    public static ImmutableArray<string> Of(Voice voice) =>
        voice.Ribbons.IsEmpty
            ? []
            : [.. FromLead(voice).SelectMany(ribbon => ribbon.To).Select(name => name.Owner).Distinct()];

    /// <summary>
    /// The voice with so many followers on the first ribbon's lead. Fewer: the last ones are taken away with their
    /// cords. More: copies of the last one follow it on the panel, on the ribbon and along the supply, set as it is, with
    /// nothing plugged into them; they are named <c>follower 4</c>, <c>follower 5</c> and so on, by their place.
    /// </summary>
    /// <exception cref="ArgumentException">The voice has no link, or the count is negative.</exception>
    public static Voice WithFollowers(this Voice voice, int count)
    {
        ImmutableArray<string> present = Of(voice);
        if (present.IsEmpty)
            throw new ArgumentException($"{voice.Name} has no link to hang followers on");
        ArgumentOutOfRangeException.ThrowIfNegative(count);
        return count <= present.Length
            ? voice.Without(WithTheirOwn(voice, present.Skip(count)))
            : WithCopies(voice, present[^1], NewNames(voice, present.Length, count));
    }

    private static IEnumerable<Ribbon> FromLead(Voice voice) =>
        voice.Ribbons.Where(ribbon => ribbon.From.Owner == voice.Ribbons[0].From.Owner);

    // What a follower that goes feeds by a ribbon of its own goes too.
    private static HashSet<string> WithTheirOwn(Voice voice, IEnumerable<string> first)
    {
        HashSet<string> gone = [];
        Queue<string> open = new(first);
        while (open.TryDequeue(out string? name))
            if (gone.Add(name))
                foreach (Ribbon ribbon in voice.Ribbons.Where(ribbon => ribbon.From.Owner == name))
                    foreach (JackName to in ribbon.To)
                        open.Enqueue(to.Owner);
        return gone;
    }

    private static Voice WithCopies(Voice voice, string last, string[] copies)
    {
        Member model = voice.Members.First(member => member.Name == last);
        int place = voice.Members.IndexOf(model) + 1;
        return voice with
        {
            Members = voice.Members.InsertRange(place, copies.Select(name => model with { Name = name })),
            Ribbons =
            [
                .. voice.Ribbons.Select(ribbon =>
                    ribbon.From.Owner == voice.Ribbons[0].From.Owner ? Longer(ribbon, last, copies) : ribbon
                ),
            ],
        };
    }

    private static Ribbon Longer(Ribbon ribbon, string last, string[] copies)
    {
        int place = -1;
        for (int i = 0; i < ribbon.To.Length; i++)
            if (ribbon.To[i].Owner == last)
                place = i;
        return place < 0
            ? ribbon
            : ribbon with
            {
                To = ribbon.To.InsertRange(
                    place + 1,
                    copies.Select(name => new JackName(name, ribbon.To[place].Label))
                ),
            };
    }

    private static string[] NewNames(Voice voice, int present, int count)
    {
        HashSet<string> taken =
        [
            .. voice.Members.Select(member => member.Name),
            .. voice.Players.Select(player => player.Name),
            .. voice.Multiples.Select(multiple => multiple.Name),
        ];
        string[] names = new string[count - present];
        for (int i = 0; i < names.Length; i++)
        {
            string name = string.Create(CultureInfo.InvariantCulture, $"follower {present + i + 1}");
            while (!taken.Add(name))
                name += "'";
            names[i] = name;
        }
        return names;
    }
}
