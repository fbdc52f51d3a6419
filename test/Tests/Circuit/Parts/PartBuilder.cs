using System.Collections.Immutable;
using Consort.Engine.Design;

namespace Consort.Tests.Circuit.Parts;

/// <summary>Parts as the reader would make them: every parameter at its kind's default unless given.</summary>
internal static class PartBuilder
{
    /// <summary>A part from its kind, its joints as <c>"collector: c, base: b"</c> and the numbers that differ from the
    /// kind's defaults.</summary>
    public static Part Make(
        string kind,
        string name,
        string joints,
        IReadOnlyDictionary<string, double>? numbers = null,
        IReadOnlyDictionary<string, string>? texts = null
    )
    {
        PartKind found = PartKinds.Find(kind) ?? throw new ArgumentException($"no kind '{kind}'");
        Dictionary<string, double> values = found
            .Parameters.Where(parameter => parameter.Default is not null)
            .ToDictionary(parameter => parameter.Word, parameter => parameter.Default!.Value);
        foreach ((string word, double value) in numbers ?? new Dictionary<string, double>())
            values[word] = value;
        Dictionary<string, string> words = found
            .Texts.Where(text => text.Default is not null)
            .ToDictionary(text => text.Word, text => text.Default!);
        foreach ((string word, string text) in texts ?? new Dictionary<string, string>())
            words[word] = text;
        return new(
            name,
            found,
            [.. joints.Split(',').Select(Joint)],
            values.ToImmutableDictionary(),
            words.ToImmutableDictionary(),
            [],
            SourceSpan.None
        );
    }

    private static Joint Joint(string text)
    {
        string[] halves = text.Split(':');
        return new(halves[0].Trim(), halves[1].Trim());
    }
}
