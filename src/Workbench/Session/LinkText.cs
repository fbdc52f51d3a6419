using Consort.Engine.Design;

namespace Consort.Workbench.Session;

/// <summary>Link headers and ribbons as they stand in the texts: also while a follower hangs on nothing and the voice cannot be read.</summary>
public static class LinkText
{
    private const string Ribbons = "ribbons";

    /// <summary>A module's link headers, by name and role.</summary>
    /// <param name="texts">The folder's.</param>
    /// <param name="module">The name of its file.</param>
    public static IEnumerable<(string Name, string Role)> Headers(DesignTexts texts, string module) =>
        new TextPlace(DesignTexts.FileOf(module), "circuit").Node(texts) is not YamlMap circuit ? []
        : from entry in circuit.Entries
          let part = entry.Value as YamlMap
          let name = part?.Find("header")?.Value as YamlText
          where name is not null
          select (name.Value, part.Find("role")?.Value is YamlText role ? role.Value : "through");

    /// <summary>Every header in the voice that drives a link, as <c>lead/link</c>.</summary>
    public static IEnumerable<string> Leads(DesignTexts texts) =>
        new TextPlace(DesignTexts.VoiceFile, "modules").Node(texts) is not YamlMap members ? []
        : from member in members.Entries
          let module = (member.Value as YamlMap)?.Find("module")?.Value as YamlText
          where module is not null
          from header in Headers(texts, module.Value)
          where header.Role == "lead"
          select $"{member.Key}/{header.Name}";

    /// <summary>The text with one header more on a link: at the end of its ribbon, or on a new one; null where the text cannot be read
    /// as it stands.</summary>
    /// <param name="source">The text of <c>voice.yaml</c>.</param>
    /// <param name="from">The lead's header.</param>
    /// <param name="to">The header that is to hang on it.</param>
    /// <param name="length">Of a new ribbon, as it is written.</param>
    public static string? HangOn(SourceText source, string from, string to, string length)
    {
        if (TextTrees.Of(source) is not { } map || map.Entries.IsEmpty)
            return null;
        YamlEdit edit = new(source);
        YamlList? ribbons = map.Find(Ribbons)?.Value as YamlList;
        switch (ribbons?.Items.OfType<YamlMap>().FirstOrDefault(ribbon => ribbon.Find("from")?.Value is YamlText lead && lead.Value == from)?.Find("to")?.Value)
        {
            case YamlText alone:
                edit.AddAfter(alone, to);
                break;
            case YamlList { Items.Length: > 0 } several:
                edit.AddAfter(several, several.Items.Length - 1, to);
                break;
            case null when ribbons is { Items.Length: > 0 }:
                edit.AddAfter(ribbons, ribbons.Items.Length - 1, ("from", from), ("to", to), ("length", length));
                break;
            case null when map.Find(Ribbons) is null:
                edit.AddList(map, Ribbons, ("from", from), ("to", to), ("length", length));
                break;
            default:
                return null;
        }
        return edit.Result();
    }
}
