using System.Collections.Immutable;

namespace Consort.Engine.Design;

/// <summary>Which way a jack works.</summary>
internal enum JackFace
{
    /// <summary>Drives what is plugged in.</summary>
    Output,
    /// <summary>Is driven.</summary>
    Input,
    /// <summary>A passive multiple's: as the others of the multiple.</summary>
    Shared,
}

/// <summary>Every jack and header of a voice by owner.</summary>
internal sealed class JackBook
{
    private readonly Dictionary<string, Dictionary<string, JackFace>> jacks = [];
    private readonly Dictionary<string, ImmutableArray<string>> headers = [];

    public JackBook(IEnumerable<Member> members, IEnumerable<Player> players, IEnumerable<Multiple> multiples)
    {
        foreach (Member member in members)
        {
            jacks[member.Name] = Of(member.Module);
            headers[member.Name] =
            [
                .. member.Module.Circuit.Where(part => part.Kind.Word == "header").Select(part => part.Texts["value"]),
            ];
        }
        foreach (Player player in players)
            jacks[player.Name] = new() { ["out"] = JackFace.Output };
        foreach (Multiple multiple in multiples)
            jacks[multiple.Name] = Of(multiple);
    }

    /// <summary>All owners.</summary>
    public IReadOnlyCollection<string> Owners => jacks.Keys;

    /// <summary>The owners that have headers: the modules.</summary>
    public IReadOnlyCollection<string> Members => headers.Keys;

    /// <summary>The labels of an owner's jacks.</summary>
    public IReadOnlyCollection<string> Labels(string owner) => jacks[owner].Keys;

    /// <summary>The names of a module's headers.</summary>
    public ImmutableArray<string> Headers(string member) => headers[member];

    /// <summary>How a jack works; null when it is not there.</summary>
    public JackFace? Face(JackName name) =>
        jacks.TryGetValue(name.Owner, out Dictionary<string, JackFace>? labels)
        && labels.TryGetValue(name.Label, out JackFace face)
            ? face
            : null;

    private static Dictionary<string, JackFace> Of(Module module)
    {
        Dictionary<string, JackFace> labels = [];
        foreach (Part jack in module.Circuit.Where(part => part.Kind.Word == "jack"))
            labels[jack.Texts["label"]] = jack.Texts["value"] == "output" ? JackFace.Output : JackFace.Input;
        foreach (string label in module.Sheet?.Inputs.Keys.Order(StringComparer.Ordinal) ?? Enumerable.Empty<string>())
            labels[label] = JackFace.Input;
        foreach (string label in module.Sheet?.Outputs.Keys.Order(StringComparer.Ordinal) ?? Enumerable.Empty<string>())
            labels[label] = JackFace.Output;
        return labels;
    }

    private static Dictionary<string, JackFace> Of(Multiple multiple)
    {
        Dictionary<string, JackFace> labels = new()
        {
            ["in"] = multiple.Buffered ? JackFace.Input : JackFace.Shared,
        };
        for (int way = 1; way <= multiple.Ways; way++)
            labels[$"{way}"] = multiple.Buffered ? JackFace.Output : JackFace.Shared;
        return labels;
    }
}
