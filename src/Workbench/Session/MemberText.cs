using Consort.Engine.Design;

namespace Consort.Workbench.Session;

/// <summary>Writes a voice's text with modules more or fewer, everything else as it was.</summary>
public static class MemberText
{
    /// <summary>The text with one module more, after the last one, with nothing plugged into it; null where the text has no modules.</summary>
    /// <param name="source">The text of <c>voice.yaml</c>.</param>
    /// <param name="name">Its name in the voice.</param>
    /// <param name="module">The name of its file.</param>
    public static string? More(SourceText source, string name, string module)
    {
        if (TextTrees.Of(source) is not { } map || Members(map) is not { Entries: [.., var last] } members || members.Find(name) is not null)
            return null;
        YamlEdit edit = new(source);
        edit.AddAfter(members, last, name, ("module", module));
        return edit.Result();
    }

    /// <summary>The text without some modules: with them go their cords, their places on ribbons, and ribbons of their own; null
    /// where none would be left.</summary>
    /// <param name="source">The text of <c>voice.yaml</c>.</param>
    /// <param name="gone">Their names.</param>
    public static string? Without(SourceText source, IReadOnlySet<string> gone)
    {
        if (TextTrees.Of(source) is not { } map || Members(map) is not { } members || members.Entries.All(entry => gone.Contains(entry.Key)))
            return null;
        YamlEdit edit = new(source);
        foreach (YamlEntry entry in members.Entries.Where(entry => gone.Contains(entry.Key)))
            edit.Remove(members, entry);
        PatchText.TakeOut(edit, map, "cords", wire => Ends(wire).Any(gone.Contains));
        PatchText.TakeOut(edit, map, "ribbons", ribbon => IsGone(ribbon, gone));
        if (map.Find("ribbons")?.Value is YamlList ribbons)
            foreach (YamlMap ribbon in ribbons.Items.OfType<YamlMap>().Where(ribbon => !IsGone(ribbon, gone)))
                Shorten(edit, ribbon, gone);
        return edit.Result();
    }

    internal static YamlMap? Members(YamlMap map) => map.Find("modules")?.Value as YamlMap;

    /// <summary>Whose a place is: what stands before its stroke.</summary>
    internal static string Owner(YamlText place) => place.Value.IndexOf('/', StringComparison.Ordinal) is >= 0 and int stroke ? place.Value[..stroke] : place.Value;

    private static bool IsGone(YamlNode ribbon, IReadOnlySet<string> gone) =>
        ribbon is YamlMap map && ((map.Find("from")?.Value is YamlText from && gone.Contains(Owner(from))) || Ends(map, "to").All(gone.Contains));

    private static void Shorten(YamlEdit edit, YamlMap ribbon, IReadOnlySet<string> gone)
    {
        if (ribbon.Find("to")?.Value is YamlList to)
            for (int i = 0; i < to.Items.Length; i++)
                if (to.Items[i] is YamlText header && gone.Contains(Owner(header)))
                    edit.Remove(to, i);
    }

    // Of what leads from one place to others: whose the places are.
    private static IEnumerable<string> Ends(YamlNode wire, params string[] keys) =>
        wire is not YamlMap map ? []
        : from key in keys is [] ? ["from", "to"] : keys
          from text in map.Find(key)?.Value switch { YamlText one => [one], YamlList list => list.Items.OfType<YamlText>(), _ => [] }
          select Owner(text);
}
