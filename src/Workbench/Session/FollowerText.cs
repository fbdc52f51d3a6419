using System.Collections.Immutable;
using Consort.Engine.Circuit.Wiring;
using Consort.Engine.Design;

namespace Consort.Workbench.Session;

/// <summary>Writes a voice's text with one follower more or fewer on its link, everything else as it was.</summary>
public static class FollowerText
{
    /// <summary>The text with one more: like the last one, after it on the panel and on the ribbon, with nothing plugged into it.</summary>
    /// <param name="voice">As it was read from the text.</param>
    /// <param name="source">The text of <c>voice.yaml</c>.</param>
    /// <returns>Null where the voice has no follower to go by.</returns>
    public static string? More(Voice voice, SourceText source)
    {
        ImmutableArray<string> present = Followers.Of(voice);
        if (present.IsEmpty || TextTrees.Of(source) is not { } map || Members(map) is not { } members || members.Find(present[^1]) is not { } last)
            return null;
        string name = Followers.Of(voice.WithFollowers(present.Length + 1))[^1];
        YamlEdit edit = new(source);
        edit.AddAfter(members, last, name, last.Value);
        foreach (YamlMap ribbon in Items(map, "ribbons").OfType<YamlMap>())
            Lengthen(edit, ribbon.Find("to")?.Value, last.Key, name);
        return edit.Result();
    }

    /// <summary>The text with one fewer: the last goes, with its cords and with what hangs on ribbons of its own.</summary>
    /// <param name="voice">As it was read from the text.</param>
    /// <param name="source">The text of <c>voice.yaml</c>.</param>
    /// <returns>Null where it has only one, or none.</returns>
    public static string? Fewer(Voice voice, SourceText source)
    {
        int count = Followers.Of(voice).Length - 1;
        if (count < 1 || TextTrees.Of(source) is not { } map || Members(map) is not { } members)
            return null;
        HashSet<string> gone = [.. voice.Members.Except(voice.WithFollowers(count).Members).Select(member => member.Name)];
        YamlEdit edit = new(source);
        foreach (YamlEntry entry in members.Entries.Where(entry => gone.Contains(entry.Key)))
            edit.Remove(members, entry);
        if (map.Find("cords")?.Value is YamlList cords)
            for (int i = 0; i < cords.Items.Length; i++)
                if (Ends(cords.Items[i]).Any(gone.Contains))
                    edit.Remove(cords, i);
        if (map.Find("ribbons")?.Value is YamlList ribbons)
            for (int i = 0; i < ribbons.Items.Length; i++)
                Shorten(edit, ribbons, i, gone);
        return edit.Result();
    }

    private static YamlMap? Members(YamlMap map) => map.Find("modules")?.Value as YamlMap;

    private static ImmutableArray<YamlNode> Items(YamlMap map, string key) => map.Find(key)?.Value is YamlList list ? list.Items : [];

    private static void Lengthen(YamlEdit edit, YamlNode? to, string last, string name)
    {
        if (to is YamlText alone && Owner(alone) == last)
            edit.AddAfter(alone, $"{name}/{Label(alone)}");
        else if (to is YamlList list)
            for (int i = 0; i < list.Items.Length; i++)
                if (list.Items[i] is YamlText header && Owner(header) == last)
                    edit.AddAfter(list, i, $"{name}/{Label(header)}");
    }

    private static void Shorten(YamlEdit edit, YamlList ribbons, int i, HashSet<string> gone)
    {
        if (ribbons.Items[i] is not YamlMap ribbon)
            return;
        if (Ends(ribbon).All(gone.Contains) || (ribbon.Find("from")?.Value is YamlText from && gone.Contains(Owner(from))))
            edit.Remove(ribbons, i);
        else if (ribbon.Find("to")?.Value is YamlList to)
            for (int j = 0; j < to.Items.Length; j++)
                if (to.Items[j] is YamlText header && gone.Contains(Owner(header)))
                    edit.Remove(to, j);
    }

    // Of what leads from one place to others: whose the places are.
    private static IEnumerable<string> Ends(YamlNode wire) =>
        wire is not YamlMap map ? []
        : from key in new[] { "from", "to" }
          from text in map.Find(key)?.Value switch { YamlText one => [one], YamlList list => list.Items.OfType<YamlText>(), _ => [] }
          select Owner(text);

    private static string Owner(YamlText place) => place.Value[..Slash(place)];

    private static string Label(YamlText place) => place.Value[Math.Min(place.Value.Length, Slash(place) + 1)..];

    private static int Slash(YamlText place) => place.Value.IndexOf('/', StringComparison.Ordinal) is >= 0 and int slash ? slash : place.Value.Length;
}
