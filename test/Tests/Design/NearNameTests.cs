using Consort.Engine.Design;
using Xunit;

namespace Consort.Tests.Design;

public sealed class NearNameTests
{
    [Theory]
    [InlineData("resistr", "resistor")]
    [InlineData("colletcor", "collector")]
    [InlineData("Saw Core", "saw core")]
    [InlineData("pich sum", "pitch sum")]
    public void A_slip_of_spelling_finds_its_word(string written, string meant) =>
        Assert.Equal(meant, NearName.Of(written, ["resistor", "collector", "saw core", "pitch sum", "emitter"]));

    [Theory]
    [InlineData("banana")]
    [InlineData("")]
    [InlineData("x")]
    public void What_is_far_from_every_word_finds_none(string written) =>
        Assert.Null(NearName.Of(written, ["resistor", "collector", "saw core"]));

    // F. J. Damerau, CACM 7 (1964) 171: one error is a letter more, less, other, or two neighbours exchanged.
    [Theory]
    [InlineData("abc", "abc", 0)]
    [InlineData("abc", "acb", 1)]
    [InlineData("abc", "ab", 1)]
    [InlineData("abc", "abcd", 1)]
    [InlineData("abc", "axc", 1)]
    [InlineData("kitten", "sitting", 3)]
    public void Slips_are_counted(string a, string b, int slips) => Assert.Equal(slips, NearName.Distance(a, b));
}
