using System.Collections.Immutable;
using Consort.Engine.Design;

namespace Consort.Workbench.Session;

/// <summary>A value's place in a file: the names that lead to it, as <c>circuit</c>, <c>R3</c>, <c>tolerance</c>.</summary>
/// <param name="File">The file's name in the folder.</param>
/// <param name="Path">Names of map entries; a number stands for an item of a list, from 0.</param>
public sealed record TextPlace(string File, params ImmutableArray<string> Path)
{
    /// <summary>The value that stands there; null when none does, or when the text cannot be read.</summary>
    public string? In(DesignTexts texts) =>
        Node(texts) is YamlText text ? text.Value : null;

    /// <summary>Where it stands; null when nothing does.</summary>
    public SourceSpan? Span(DesignTexts texts) =>
        Node(texts)?.At;

    /// <summary>What stands there; null when nothing does, or when the text cannot be read.</summary>
    public YamlNode? Node(DesignTexts texts) => texts.Find(File) is { } source && TextTrees.Of(source) is { } map ? At(map, Path.AsSpan()) : null;

    /// <summary>A place below this one.</summary>
    public TextPlace Below(params ReadOnlySpan<string> steps) => new(File, [.. Path, .. steps]);

    /// <summary>The text with another value there, everything else as it was; or why that cannot be.</summary>
    public (string? Text, string? Refusal) With(SourceText source, string value)
    {
        if (TextTrees.Of(source) is not { } map)
            return (null, $"{File} cannot be read as it stands: mend its text first");
        if (At(map, Path.AsSpan(..^1)) is not { } holder)
            return (null, $"{File} has no {string.Join(", ", Path[..^1])}");
        YamlEdit edit = new(source);
        switch (holder)
        {
            case YamlMap parent when parent.Find(Path[^1]) is not { Value: not YamlText }:
                edit.Set(parent, Path[^1], value);
                return (edit.Result(), null);
            case YamlList list when Item(list, Path[^1]) is YamlText text:
                edit.Replace(text, value, list.Flow);
                return (edit.Result(), null);
            default:
                return (null, $"what stands there in {File} is no single value: change it in the text");
        }
    }

    private static YamlNode? At(YamlNode? node, ReadOnlySpan<string> path)
    {
        foreach (string step in path)
            node = node switch
            {
                YamlMap map => map.Find(step)?.Value,
                YamlList list => Item(list, step),
                _ => null,
            };
        return node;
    }

    private static YamlNode? Item(YamlList list, string step) => int.TryParse(step, out int index) && index >= 0 && index < list.Items.Length ? list.Items[index] : null;
}
