using System.Collections.Immutable;
using System.IO.Compression;
using System.Security.Cryptography;
using System.Text;
using Consort.Engine.Design;
using Consort.Engine.Documents.Files;
using Consort.Engine.Documents.Packs;
using Consort.Engine.Documents.Panels;
using UglyToad.PdfPig;
using UglyToad.PdfPig.Content;
using Xunit;

namespace Consort.Tests.Documents.Packs;

public sealed class PackTests
{
    private static readonly Lazy<ImmutableArray<(string Name, byte[] Content)>> Pair = new(() => Files("pair"));

    [Fact]
    public void Two_packs_of_one_design_are_the_same_to_the_byte()
    {
        ImmutableArray<(string Name, byte[] Content)> again = Files("pair");
        Assert.Equal(Pair.Value.Select(file => file.Name), again.Select(file => file.Name));
        Assert.All(Pair.Value.Zip(again), pair => Assert.True(pair.First.Content.AsSpan().SequenceEqual(pair.Second.Content), pair.First.Name));
        Assert.Equal(SteadyZip.Pack(Pair.Value), SteadyZip.Pack(again));
    }

    [Fact]
    public void Every_file_has_its_checksum()
    {
        // FIPS 180-4 by the platform; the format is that of coreutils' sha256sum.
        Dictionary<string, string> sums = Encoding.UTF8.GetString(Pair.Value.Single(file => file.Name == PackFiles.Sums).Content)
            .Split('\n', StringSplitOptions.RemoveEmptyEntries).Select(line => line.Split("  ")).ToDictionary(line => line[1], line => line[0]);
        Assert.Equal(Pair.Value.Length - 1, sums.Count);
        Assert.All(Pair.Value.Where(file => file.Name != PackFiles.Sums), file => Assert.Equal(Convert.ToHexStringLower(SHA256.HashData(file.Content)), sums[file.Name]));
    }

    [Fact]
    public void It_holds_the_guide_drawings_fabrication_files_parts_and_the_design_as_it_is()
    {
        string[] names = [.. Pair.Value.Select(file => file.Name)];
        foreach (string name in new[] { "guide.pdf", "parts/parts.csv", "parts/parts.xlsx", "pictures/connections.svg", "pictures/row.svg", "panels/panels.pdf", "panels/pair-lead.dxf", "panels/pair-lead-profile.gbr", "panels/pair-lead-holes.xnc", "design/voice.yaml", "design/modules/pair-lead.yaml" })
            Assert.Contains(name, names);
        byte[] voice = File.ReadAllBytes(Path.Combine(Golden.Root, "examples", "pair", "voice.yaml"));
        Assert.Equal(voice, Pair.Value.Single(file => file.Name == "design/voice.yaml").Content);
        using ZipArchive zip = new(new MemoryStream(SteadyZip.Pack(Pair.Value)));
        Assert.Equal(names, zip.Entries.Select(entry => entry.FullName));
    }

    [Fact]
    public void The_guide_says_the_cautions_first_and_then_its_chapters_in_order()
    {
        using PdfDocument guide = PdfDocument.Open(Pair.Value.Single(file => file.Name == "guide.pdf").Content);
        string all = string.Join('\n', guide.GetPages().Select(page => string.Join(' ', page.GetWords().Select(word => word.Text))));
        int last = -1;
        foreach (string words in new[] { "Cautions: read these first", "Mains: use a certified supply", "Hearing:", "Parts of one voice", "Assembly, in this order", "First power-up", "Trimming Let", "Check sheet Trimmed", "Patch sheet cord" })
        {
            int at = all.IndexOf(words, last + 1, StringComparison.Ordinal);
            Assert.True(at > last, $"'{words}' does not come next");
            last = at;
        }
        Assert.Contains("Cautions", string.Join(' ', guide.GetPage(1).GetWords().Select(word => word.Text)), StringComparison.Ordinal);
    }

    [Theory]
    [InlineData("pair")]
    [InlineData("shoestring")]
    public void No_text_of_the_guide_is_cut_by_the_page_or_lies_over_another(string example)
    {
        byte[] bytes = example == "pair" ? Pair.Value.Single(file => file.Name == "guide.pdf").Content : Files(example).Single(file => file.Name == "guide.pdf").Content;
        using PdfDocument guide = PdfDocument.Open(bytes);
        foreach (Page page in guide.GetPages())
        {
            Word[] words = [.. page.GetWords()];
            foreach (Word word in words)
                Assert.True(word.BoundingBox.Left > 0 && word.BoundingBox.Right < page.Width && word.BoundingBox.Bottom > 0 && word.BoundingBox.Top < page.Height, $"page {page.Number}: '{word.Text}' is cut");
            for (int i = 0; i < words.Length; i++)
                for (int k = i + 1; k < words.Length; k++)
                    Assert.False(Overlap(words[i], words[k]), $"page {page.Number}: '{words[i].Text}' lies over '{words[k].Text}'");
        }
    }

    // Letters' boxes may touch; what shares more than a third of a point in both directions is drawn over.
    private static bool Overlap(Word a, Word b)
    {
        double across = Math.Min(a.BoundingBox.Right, b.BoundingBox.Right) - Math.Max(a.BoundingBox.Left, b.BoundingBox.Left);
        double up = Math.Min(a.BoundingBox.Top, b.BoundingBox.Top) - Math.Max(a.BoundingBox.Bottom, b.BoundingBox.Bottom);
        return across > 0.33 && up > 0.33;
    }

    private static ImmutableArray<(string Name, byte[] Content)> Files(string example)
    {
        string folder = Path.Combine(Golden.Root, "examples", example);
        (Voice? voice, Stock? stock, _) = VoiceFolder.Read(folder);
        (PackContent? content, var failure) = new PackMaker(stock!, PartsLibrary.BuiltIn, 1).Make(voice!, PanelSet.Of(voice!, _ => null));
        Assert.True(content is not null, failure?.What);
        return PackFiles.Of(content, VoiceFolder.Files(folder), filled: false);
    }
}
