using System.Collections.Immutable;
using System.Security.Cryptography;
using System.Text;
using Consort.Engine.Design;
using Consort.Engine.Documents.Files;
using Consort.Engine.Documents.Panels;
using Consort.Engine.Documents.Parts;
using Consort.Engine.Documents.Plans;
using Consort.Engine.Expected;
using Consort.Engine.Scope;

namespace Consort.Engine.Documents.Packs;

/// <summary>All files of a pack, the same to the byte for the same design.</summary>
public static class PackFiles
{
    /// <summary>The file that holds every other file's checksum, as <c>sha256sum --check</c> reads it.</summary>
    public const string Sums = "SHA256SUMS";

    /// <summary>The voice's name as a file may bear it.</summary>
    public static string NameOf(Voice voice) => string.Concat(voice.Name.Select(c => char.IsAsciiLetterOrDigit(c) ? char.ToLowerInvariant(c) : '-')).Trim('-');

    /// <summary>Names with forward slashes, in order, and contents.</summary>
    /// <param name="content">What it says.</param>
    /// <param name="design">The design folder's own files.</param>
    /// <param name="filled">Panels with copper all over.</param>
    public static ImmutableArray<(string Name, byte[] Content)> Of(PackContent content, ImmutableArray<(string Name, byte[] Content)> design, bool filled)
    {
        ImmutableArray<(string Name, byte[] Content)> files =
        [
            .. Files(content, filled).Concat(design.Select(file => ($"design/{file.Name}", file.Content))).OrderBy(file => file.Item1, StringComparer.Ordinal),
        ];
        return [(Sums, Encoding.UTF8.GetBytes(string.Concat(files.Select(file => $"{Convert.ToHexStringLower(SHA256.HashData(file.Content))}  {file.Name}\n")))), .. files];
    }

    private static IEnumerable<(string Name, byte[] Content)> Files(PackContent content, bool filled)
    {
        yield return ("guide.pdf", Guide.Write(content));
        yield return ("parts/parts.csv", Encoding.UTF8.GetBytes(PartsCsv.Write(PartsSheet.Lines(content.Order))));
        yield return ("parts/parts.xlsx", PartsBook.Write(content.Order));
        yield return ("pictures/connections.svg", Svg(ConnectionChart.Draw(content.Voice, $"{content.Voice.Name}: connections")));
        yield return ("pictures/row.svg", Svg(RowPicture.Draw(content.Voice, content.Places, $"{content.Voice.Name}: the row, from the front")));
        foreach (ExpectedUnit unit in content.Units)
            foreach ((string kind, ScopeRecord? record) in new[] { ("outputs", unit.Outputs), ("inside", unit.Inner) })
                if (record is not null)
                    yield return ($"pictures/{kind}-{PanelArtist.FileOf(unit.Module)}.svg", Svg(TracePlot.Draw(record, $"{unit.Module.Name}: {kind} at first power-up")));
        if (!content.Panels.Panels.IsEmpty)
            foreach ((string name, byte[] bytes) in PanelFiles.Of(content.Panels, content.Voice.Name, filled))
                yield return ($"panels/{name}", bytes);
    }

    private static byte[] Svg(LineArt art) => Encoding.UTF8.GetBytes(SvgArt.Write(art));
}
