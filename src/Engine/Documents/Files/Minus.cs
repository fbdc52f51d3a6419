using System.Text.RegularExpressions;

namespace Consort.Engine.Documents.Files;

/// <summary>On paper a number's sign is a minus, not a hyphen.</summary>
internal static partial class Minus
{
    /// <summary>Hyphens before a number that begins a word become minus signs: <c>-12 V</c>, <c>octave -1</c>, not <c>M3-10</c>.</summary>
    public static string Set(string text) => text.Contains('-', StringComparison.Ordinal) ? Sign().Replace(text, "−") : text;

    [GeneratedRegex(@"(?<![\w.)\]-])-(?=\.?\d)", RegexOptions.None, matchTimeoutMilliseconds: 1000)]
    private static partial Regex Sign();
}
