using System.Text;
using System.Text.RegularExpressions;

namespace Consort.Engine.Documents.Files;

/// <summary>Takes out of a PDF what the library puts in by chance: document names and the tags of embedded fonts. Each is
/// replaced by one of the same length, so that the file's table of places holds.</summary>
internal static partial class SteadyPdf
{
    /// <summary>The same document, the same to the byte for the same content.</summary>
    public static byte[] Steady(byte[] document)
    {
        string text = Encoding.Latin1.GetString(document);
        Dictionary<string, string> tags = [];
        text = FontTag().Replace(text, tag => $"{TagOf(tags, tag.Groups["tag"].Value)}+DejaVu");
        text = Uuid().Replace(text, $"uuid:{Guid.Empty}");
        text = Trailer().Replace(text, $"/ID[<{new string('0', 32)}><{new string('0', 32)}>]");
        return Encoding.Latin1.GetBytes(text);
    }

    private static string TagOf(Dictionary<string, string> tags, string chance)
    {
        if (!tags.TryGetValue(chance, out string? tag))
            tags.Add(chance, tag = new string((char)('A' + tags.Count), 6));
        return tag;
    }

    [GeneratedRegex("(?<tag>[A-Z]{6})\\+DejaVu", RegexOptions.NonBacktracking | RegexOptions.ExplicitCapture)]
    private static partial Regex FontTag();

    [GeneratedRegex("uuid:[0-9a-f-]{36}", RegexOptions.NonBacktracking)]
    private static partial Regex Uuid();

    [GeneratedRegex("/ID\\[<[0-9A-F]{32}><[0-9A-F]{32}>\\]", RegexOptions.NonBacktracking)]
    private static partial Regex Trailer();
}
