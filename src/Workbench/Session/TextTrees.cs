using System.Runtime.CompilerServices;
using Consort.Engine.Design;

namespace Consort.Workbench.Session;

/// <summary>The trees of texts, each read once: a screen asks for hundreds of values of the same text.</summary>
internal static class TextTrees
{
    private static readonly ConditionalWeakTable<SourceText, Tree> Read = [];

    /// <summary>A text's map; null when it cannot be read.</summary>
    public static YamlMap? Of(SourceText source) => Read.GetValue(source, text => new(YamlTree.ReadMap(text, new ErrorList()))).Map;

    private sealed record Tree(YamlMap? Map);
}
