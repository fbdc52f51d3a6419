using System.Collections.Immutable;

namespace Consort.Engine.Design;

/// <summary>A piece of a YAML file with its exact place.</summary>
/// <param name="At">Line, column, length.</param>
/// <param name="Start">Offset of its first character in the text.</param>
/// <param name="End">Offset after its last character.</param>
public abstract record YamlNode(SourceSpan At, int Start, int End)
{
    /// <summary>What it is, for messages: a text, a list, a map.</summary>
    public abstract string Shape { get; }
}

/// <summary>A text: every scalar is one, numbers too.</summary>
/// <param name="Value">The text without quotes.</param>
/// <param name="Quoted">True when it stood in quotes or as a block.</param>
public sealed record YamlText(string Value, bool Quoted, SourceSpan At, int Start, int End) : YamlNode(At, Start, End)
{
    /// <summary>Nothing stands there.</summary>
    public bool IsNothing => !Quoted && Value.Length == 0;

    /// <inheritdoc/>
    public override string Shape => IsNothing ? "nothing" : "a text";
}

/// <summary>A list.</summary>
/// <param name="Flow">True when written in brackets.</param>
public sealed record YamlList(ImmutableArray<YamlNode> Items, bool Flow, SourceSpan At, int Start, int End)
    : YamlNode(At, Start, End)
{
    /// <inheritdoc/>
    public override string Shape => "a list";
}

/// <summary>One entry of a map.</summary>
public sealed record YamlEntry(string Key, YamlText Name, YamlNode Value)
{
    /// <summary>Where the name stands.</summary>
    public SourceSpan KeyAt => Name.At;
}

/// <summary>A map: entries in the order of the file, each name once.</summary>
/// <param name="Flow">True when written in braces.</param>
public sealed record YamlMap(ImmutableArray<YamlEntry> Entries, bool Flow, SourceSpan At, int Start, int End)
    : YamlNode(At, Start, End)
{
    /// <inheritdoc/>
    public override string Shape => "a map";

    /// <summary>The entry of that name, or null.</summary>
    public YamlEntry? Find(string key)
    {
        foreach (YamlEntry entry in Entries)
            if (entry.Key == key)
                return entry;
        return null;
    }
}
