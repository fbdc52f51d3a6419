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
        if (present.IsEmpty || TextTrees.Of(source) is not { } map || MemberText.Members(map) is not { } members || members.Find(present[^1]) is not { } last)
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
        if (count < 1)
            return null;
        return MemberText.Without(source, voice.Members.Except(voice.WithFollowers(count).Members).Select(member => member.Name).ToHashSet());
    }

    private static ImmutableArray<YamlNode> Items(YamlMap map, string key) => map.Find(key)?.Value is YamlList list ? list.Items : [];

    private static void Lengthen(YamlEdit edit, YamlNode? to, string last, string name)
    {
        if (to is YamlText alone && MemberText.Owner(alone) == last)
            edit.AddAfter(alone, $"{name}/{Label(alone)}");
        else if (to is YamlList list)
            for (int i = 0; i < list.Items.Length; i++)
                if (list.Items[i] is YamlText header && MemberText.Owner(header) == last)
                    edit.AddAfter(list, i, $"{name}/{Label(header)}");
    }

    private static string Label(YamlText place) => place.Value[Math.Min(place.Value.Length, MemberText.Owner(place).Length + 1)..];
}
