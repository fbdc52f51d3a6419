using System.Collections.Immutable;

namespace Consort.Engine.Design;

/// <summary>Words between commas, as options and fields take them: <c>lead/saw, second/saw</c>.</summary>
public static class WordList
{
    /// <summary>The words, without the spaces around them; empty ones are left out.</summary>
    public static ImmutableArray<string> Of(string text) => [.. text.Split(',', StringSplitOptions.TrimEntries | StringSplitOptions.RemoveEmptyEntries)];
}
