using Consort.Engine.Design;

namespace Consort.Workbench.Session;

/// <summary>Writes a voice's text with cords more or fewer, everything else as it was.</summary>
public static class PatchText
{
    private const string Cords = "cords";

    /// <summary>The text with one cord more, after the last one; null where the text cannot be read as it stands.</summary>
    /// <param name="source">The text of <c>voice.yaml</c>.</param>
    /// <param name="from">The jack that drives.</param>
    /// <param name="to">The jack that is driven.</param>
    /// <param name="length">As it is written: <c>30 cm</c>.</param>
    public static string? PlugIn(SourceText source, string from, string to, string length)
    {
        if (TextTrees.Of(source) is not { } map || map.Entries.IsEmpty)
            return null;
        YamlEdit edit = new(source);
        if (map.Find(Cords)?.Value is YamlList { Items.Length: > 0 } cords)
            edit.AddAfter(cords, cords.Items.Length - 1, ("from", from), ("to", to), ("length", length));
        else if (map.Find(Cords) is null)
            edit.AddList(map, Cords, ("from", from), ("to", to), ("length", length));
        else
            return null;
        return edit.Result();
    }

    /// <summary>The text with one cord fewer.</summary>
    /// <param name="source">The text of <c>voice.yaml</c>.</param>
    /// <param name="cord">Which one, from 0.</param>
    public static string? TakeOut(SourceText source, int cord)
    {
        if (TextTrees.Of(source) is not { } map || map.Find(Cords)?.Value is not YamlList cords || cord >= cords.Items.Length)
            return null;
        YamlEdit edit = new(source);
        TakeOut(edit, map, Cords, wire => ReferenceEquals(wire, cords.Items[cord]));
        return edit.Result();
    }

    /// <summary>Takes items of a list of the voice away; the list itself when none would be left.</summary>
    internal static void TakeOut(YamlEdit edit, YamlMap map, string key, Func<YamlNode, bool> goes)
    {
        if (map.Find(key) is not { Value: YamlList list } entry)
            return;
        if (list.Items.All(goes))
            edit.Remove(map, entry);
        else
            for (int i = 0; i < list.Items.Length; i++)
                if (goes(list.Items[i]))
                    edit.Remove(list, i);
    }
}
