using Consort.Engine.Quantities;
using Consort.Tests.Circuit;
using Xunit;

namespace Consort.Tests.Quantities;

public sealed class NoteNameTests
{
    [Theory]
    [InlineData("A4", 69)]
    [InlineData("C4", 60)]
    [InlineData("c-1", 0)]
    [InlineData("G9", 127)]
    [InlineData("Bb3", 58)]
    [InlineData("F##2", 43)]
    [InlineData("Cb4", 59)]
    public void A_name_is_its_key(string name, int key) => Assert.Equal(key, NoteName.Read(name));

    [Theory]
    [InlineData("H4")]
    [InlineData("A")]
    [InlineData("4")]
    [InlineData("G#9")]
    [InlineData(" 3")]
    [InlineData("A4x")]
    public void What_is_no_key_of_128_is_null(string name) => Assert.Null(NoteName.Read(name));

    [Fact]
    public void Every_key_reads_back_from_its_name()
    {
        for (int key = 0; key < 128; key++)
            Assert.Equal(key, NoteName.Read(NoteName.Write(key)));
    }

    [Theory]
    [InlineData(60, 261.625565300599)]
    [InlineData(0, 8.17579891564371)]
    [InlineData(127, 12543.853951416)]
    public void Keys_have_the_published_frequencies(int key, double hertz) =>
        Expect.Relative(hertz, NoteName.Hertz(key), 1e-12); // MIDI 1.0 Detailed Specification, MIDI Tuning
}
