using System.Collections.Immutable;
using Consort.Engine.Design;
using Consort.Engine.Pitch;
using Consort.Workbench.Session;

namespace Consort.Workbench.Screens.Voice;

/// <summary>One part as it stands in its module's file.</summary>
/// <param name="Name">Designator.</param>
/// <param name="Kind">Word of its kind: the first entry of its map.</param>
/// <param name="Place">Where its map stands.</param>
/// <param name="Map">Its map.</param>
/// <param name="Joins">What its terminals join, in words.</param>
internal sealed record PartRow(string Name, string Kind, TextPlace Place, YamlMap Map, string Joins)
{
    /// <summary>Words of its terminals that join one net each.</summary>
    public IEnumerable<string> Joints => PartText.Joints(Map);

    /// <summary>Its main value, which stands beside the kind's word.</summary>
    public TextPlace Value => Place.Below(Kind);

    /// <summary>Where a control stands: a selector's way is its main value.</summary>
    public TextPlace Position => Kind == "selector" ? Value : Place.Below("position");

    /// <summary>True for what is moved in playing.</summary>
    public bool IsControl => Kind is "potentiometer" or "selector";

    /// <summary>True for an entry that its kind may have.</summary>
    public bool Knows(string word) => PartKinds.Find(Kind)?.Parameters.Any(parameter => parameter.Word == word) == true;

    /// <summary>Another of its entries.</summary>
    public TextPlace Entry(string word) => Place.Below(word);
}

/// <summary>What is in the voice, and with what values? All from the texts, so that it is there while a mistake is in them.</summary>
public sealed partial class VoiceScreen
{
    private const string VoiceFile = DesignTexts.VoiceFile;

    private static readonly string[] Spreads = ["tolerance", "drift", "tempco"];

    private string only = "";
    private string? opened; // the part that shows what it does not state; empty: none

    // What the file states, and below it what holds where it says nothing.
    private IEnumerable<(string Name, TextPlace Place, string? Otherwise)> Limits
    {
        get
        {
            TextPlace limits = new(VoiceFile, "limits");
            (string Name, TextPlace Place)[] stated = [.. Entries(limits)];
            foreach ((string name, TextPlace place) in stated)
                if (place.Node(State.Texts) is YamlList list)
                    for (int i = 0; i < list.Items.Length; i++)
                        yield return ($"{name} {i + 1}", place.Below($"{i}"), null);
                else
                    yield return (name, place, null);
            if (limits.Node(State.Texts) is YamlMap && State.Design is { } design)
                foreach ((string name, string otherwise) in Unstated(design.Voice.Limits))
                    if (stated.All(one => one.Name != name))
                        yield return (name, limits.Below(name), otherwise);
        }
    }

    private static (string Name, string Otherwise)[] Unstated(Limits limits) =>
        [
            ("tracking", $"{limits.TrackingCents:0.##} cents"),
            ("octaves", $"{limits.Octaves:0.##}"),
            ("from", $"{limits.LowestVoltage:0.##} V"),
            ("drift", $"{limits.DriftCents:0.##} cents"),
            ("follower error", $"{limits.FollowerCents:0.##} cents"),
            ("yield", $"{100 * limits.Yield:0.##}%"),
            ("warm-up gradient", $"{limits.WarmUpGradient:0.##} K"),
        ];

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
        select new PartRow(entry.Name, map.Entries[0].Key, entry.Place, map, Joins(map));

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

    private void Open(string part, bool isOpen) => opened = isOpen ? part : "";

    private string? Without(string member) => State.Texts.Find(VoiceFile) is { } source ? MemberText.Without(source, new HashSet<string> { member }) : null;

    private void TakeOut(int cord) => Session.RewriteVoice(Session.State.Texts.Find(VoiceFile) is { } source ? PatchText.TakeOut(source, cord) : null);

    private string? Lacking(string part) => Session.State.Texts.Find(Module!.File) is { } source ? PartText.Without(source, part) : null;

    private void TakeOut(string part)
    {
        if (Lacking(part) is { } text)
            Session.Rewrite(Module!.File, text);
    }

    private bool HasMistake(string file) => State.Errors.Any(error => !error.IsNote && error.At.File == file);

    private Member? Find(string name) => State.Design?.Voice.Members.FirstOrDefault(member => member.Name == name);

    private string Role(string name) =>
        State.Design?.Voice is not { } voice ? ""
        : voice.IsLead(name) ? "lead"
        : voice.IsFollower(name) ? "follower"
        : "";

    private static ImmutableArray<TrimResult> Trims(SessionState state) => state.Answer is { Trims.IsEmpty: false } answer ? answer.Trims : state.Proof?.Trims ?? [];

    /// <inheritdoc/>
    /// <remarks>Of what is computed it shows where trimmers come to stand, and nothing else.</remarks>
    protected override bool Differs(SessionState drawn, SessionState now) => TextsDiffer(drawn, now) || Trims(drawn) != Trims(now);

    private TrimResult? Trim(string member, string trimmer) => Trims(State).FirstOrDefault(trim => trim.Oscillator == member && trim.Trimmer == trimmer);

    // Pitch trimmers are set anew by every reading; all others stay as they are turned here.
    private bool SetsPitch(string member, string trimmer) => Find(member)?.Module.Trims.Any(step => step.Trimmer == trimmer && step.Purpose != TrimPurpose.Other) == true;

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
