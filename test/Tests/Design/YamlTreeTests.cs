using System.Text;
using Consort.Engine.Design;
using Xunit;

namespace Consort.Tests.Design;

public sealed class YamlTreeTests
{
    private static (YamlNode? Root, IReadOnlyList<InputError> Errors) Read(string text)
    {
        ErrorList errors = new();
        return (YamlTree.Read(SourceText.Of(text, "f.yaml"), errors), errors.InOrder());
    }

    private static string[] Codes(string text) => [.. Read(text).Errors.Select(e => e.Code)];

    [Theory]
    [InlineData("\n")]
    [InlineData("\r\n")]
    [InlineData("\r")]
    public void Every_key_and_value_has_its_exact_place_whatever_ends_the_lines(string lineEnd)
    {
        string text = string.Join(lineEnd, "# note", "a: 1", "µ map: {x: 12 V, \"y z\": 'it''s'} # end", "list:", "  - p q  ", "  - [r, s]", "");
        YamlMap root = Assert.IsType<YamlMap>(Read(text).Root);
        YamlMap inner = Assert.IsType<YamlMap>(root.Find("µ map")!.Value);
        YamlList list = Assert.IsType<YamlList>(root.Find("list")!.Value);
        YamlText x = Assert.IsType<YamlText>(inner.Find("x")!.Value);
        YamlText y = Assert.IsType<YamlText>(inner.Find("y z")!.Value);
        Assert.Equal(new SourceSpan("f.yaml", 2, 4, 1), root.Find("a")!.Value.At);
        Assert.Equal(new SourceSpan("f.yaml", 3, 1, 5), root.Find("µ map")!.KeyAt);
        Assert.Equal((new SourceSpan("f.yaml", 3, 12, 4), "12 V"), (x.At, text[x.Start..x.End]));
        Assert.Equal(("it's", "'it''s'"), (y.Value, text[y.Start..y.End]));
        Assert.Equal(new SourceSpan("f.yaml", 5, 5, 3), list.Items[0].At);
        Assert.Equal(new SourceSpan("f.yaml", 6, 5, 6), list.Items[1].At);
    }

    [Fact]
    public void A_byte_order_mark_moves_no_column()
    {
        ErrorList errors = new();
        byte[] bytes = [0xEF, 0xBB, 0xBF, .. "a: b\n"u8];
        SourceText source = SourceText.Decode(bytes, "f", errors)!;
        Assert.True(source.HadByteOrderMark);
        Assert.Equal(1, ((YamlMap)YamlTree.Read(source, errors)!).Entries[0].KeyAt.Column);
    }

    [Theory]
    [InlineData("a: {b: 1", "C001")]
    [InlineData("a: [b, c", "C001")]
    [InlineData("a: \"b", "C001")]
    [InlineData("a: b: c", "C001")]
    [InlineData("a: 1\n b: 2", "C001")]
    [InlineData("a:\n\tb: 1", "C001")]
    [InlineData("a: 1\nb\nc: 2", "C001")]
    [InlineData("a: @b", "C001")]
    [InlineData("a: 1\na: 2", "C004")]
    [InlineData("a: &x 1\nb: *x", "C007,C007")]
    [InlineData("a: !!str 1", "C007")]
    [InlineData("a: 1\n---\nb: 2", "C007")]
    [InlineData("<<: {a: 1}", "")]
    [InlineData("", "C008")]
    [InlineData("# only a note\n", "C008")]
    [InlineData("{a: 1}: 2", "C009")]
    [InlineData("? [a, b]\n: 2", "C009")]
    [InlineData(": 2", "C009")]
    [InlineData("a: \u0000", "C003")]
    [InlineData("a: \u001B[2J", "C003")]
    [InlineData("a: b\u2028c", "C003")]
    public void A_fault_of_the_YAML_has_its_code(string text, string codes) => Assert.Equal(codes, string.Join(',', Codes(text)));

    [Fact]
    public void Bytes_that_are_no_text_are_refused()
    {
        ErrorList errors = new();
        Assert.Null(SourceText.Decode([0x61, 0x3A, 0x0A, 0xFF, 0xFE, 0x00], "f", errors));
        Assert.Equal(("C003", 2), (errors.InOrder()[0].Code, errors.InOrder()[0].At.Line));
    }

    [Fact]
    public void A_file_that_is_not_there_and_one_that_is_a_folder_are_errors()
    {
        Assert.Equal("C002", CircuitFile.Read(Path.Combine(Golden.Root, "no such file.yaml")).Errors[0].Code);
        Assert.Equal("C002", CircuitFile.Read(Golden.Root).Errors[0].Code);
    }

    [Theory]
    [InlineData("[", "C006")]
    [InlineData("{a: ", "C006")]
    [InlineData("- ", "C006")]
    [InlineData("? ", "C006")]
    public void Endless_nesting_is_refused_early(string open, string code)
    {
        StringBuilder text = new();
        for (int i = 0; i < 100_000; i++)
            text.Append(open);
        Assert.Equal([code], Codes(text.ToString()));
    }

    [Fact]
    public void An_alias_bomb_stays_small()
    {
        StringBuilder text = new("a0: &a0 [x, x]\n");
        for (int i = 1; i < 40; i++)
            text.Append($"a{i}: &a{i} [*a{i - 1}, *a{i - 1}]\n");
        Assert.All(Codes(text.ToString()), code => Assert.Equal("C007", code));
    }

    [Fact]
    public void A_text_of_more_than_four_million_characters_is_refused() =>
        Assert.Equal(["C005"], Codes("a: " + new string('x', 4_000_001)));

    [Fact]
    public void A_text_just_below_the_limit_is_read() => Assert.Empty(Codes("a: " + new string('x', 3_900_000)));
}
