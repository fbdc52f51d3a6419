using Consort.Engine.Design;
using Consort.Engine.Pitch;
using Consort.Workbench.Session;

namespace Consort.Workbench.Screens.Voice;

/// <summary>One part as it stands in its module's file.</summary>
/// <param name="Name">Designator.</param>
/// <param name="Kind">Word of its kind: the first entry of its map.</param>
/// <param name="Place">Its map.</param>
/// <param name="Joins">What its terminals join, in words.</param>
internal sealed record PartRow(string Name, string Kind, TextPlace Place, string Joins)
{
    /// <summary>Its main value, which stands beside the kind's word.</summary>
    public TextPlace Value => Place.Below(Kind);

    /// <summary>Where a control stands: a selector's way is its main value.</summary>
    public TextPlace Position => Kind == "selector" ? Value : Place.Below("position");

    /// <summary>True for what is moved in playing.</summary>
    public bool IsControl => Kind is "potentiometer" or "selector";

    /// <summary>Another of its entries.</summary>
    public TextPlace Entry(string word) => Place.Below(word);
}

/// <summary>What is in the voice, and with what values? All from the texts, so that it is there while a mistake is in them.</summary>
public sealed partial class VoiceScreen
{
    private const string VoiceFile = DesignTexts.VoiceFile;

    private string only = "";

    private IEnumerable<(string Name, TextPlace Place)> Limits =>
        from limit in Entries(new(VoiceFile, "limits"))
        from item in limit.Place.Node(State.Texts) is YamlList list
            ? Enumerable.Range(0, list.Items.Length).Select(i => ($"{limit.Name} {i + 1}", limit.Place.Below($"{i}")))
            : [limit]
        select item;

    private IEnumerable<(string Name, TextPlace Place)> Members => Entries(new(VoiceFile, "modules"));

    private string? Chosen => Members.Select(member => member.Name).FirstOrDefault(name => name == Selection.Member) ?? Members.Select(member => member.Name).FirstOrDefault();

    private TextPlace? Module =>
        Chosen is { } name && new TextPlace(VoiceFile, "modules", name, "module").In(State.Texts) is { } file && State.Texts.Holds(DesignTexts.FileOf(file))
            ? new(DesignTexts.FileOf(file))
            : null;

    private IEnumerable<PartRow> Parts =>
        from entry in Entries(new(Module!.File, "circuit"))
        let map = entry.Place.Node(State.Texts) as YamlMap
        where map is { Entries.IsEmpty: false }
        select new PartRow(entry.Name, map.Entries[0].Key, entry.Place, Joins(map));

    private IEnumerable<(string From, string To, TextPlace Length, int? Cord)> Wires =>
        from key in new[] { "cords", "ribbons" }
        let list = new TextPlace(VoiceFile, key).Node(State.Texts) as YamlList
        where list is not null
        from i in Enumerable.Range(0, list.Items.Length)
        let map = list.Items[i] as YamlMap
        where map is not null
        select (Words(map.Find("from")?.Value), Words(map.Find("to")?.Value), new TextPlace(VoiceFile, key, $"{i}", "length"), key == "cords" ? i : null as int?);

    private IEnumerable<(string Name, TextPlace Place)> Entries(TextPlace place) =>
        place.Node(State.Texts) is YamlMap map ? map.Entries.Select(entry => (entry.Key, place.Below(entry.Key))) : [];

    private string? Without(string member) => State.Texts.Find(VoiceFile) is { } source ? MemberText.Without(source, new HashSet<string> { member }) : null;

    private void TakeOut(int cord) => Session.RewriteVoice(State.Texts.Find(VoiceFile) is { } source ? PatchText.TakeOut(source, cord) : null);

    private bool HasMistake(string file) => State.Errors.Any(error => !error.IsNote && error.At.File == file);

    private Member? Find(string name) => State.Design?.Voice.Members.FirstOrDefault(member => member.Name == name);

    private string Role(string name) =>
        State.Design?.Voice.Ribbons is not { } ribbons ? ""
        : ribbons.Any(ribbon => ribbon.From.Owner == name) ? "lead"
        : ribbons.Any(ribbon => ribbon.To.Any(to => to.Owner == name)) ? "follower"
        : "";

    private TrimResult? Trim(string member, string trimmer)
    {
        IEnumerable<TrimResult> trims = State.Answer is { Trims.IsEmpty: false } answer ? answer.Trims : State.Proof?.Trims ?? [];
        return trims.FirstOrDefault(trim => trim.Oscillator == member && trim.Trimmer == trimmer);
    }

    private bool Matches(PartRow row) =>
        only.Length == 0 || row.Name.Contains(only, StringComparison.OrdinalIgnoreCase) || row.Kind.Contains(only, StringComparison.OrdinalIgnoreCase) || row.Joins.Contains(only, StringComparison.OrdinalIgnoreCase);

    private static string Joins(YamlMap part) =>
        string.Join(", ", part.Entries.Skip(1).Where(entry => entry.Key is not ("tolerance" or "drift" or "tempco" or "position")).Select(entry => $"{entry.Key} {Words(entry.Value)}"));

    private static string Words(YamlNode? node) =>
        node switch
        {
            YamlText text => text.Value,
            YamlList list => string.Join(", ", list.Items.Select(Words)),
            YamlMap map => string.Join(", ", map.Entries.Select(entry => $"{entry.Key} {Words(entry.Value)}")),
            _ => "",
        };
}
