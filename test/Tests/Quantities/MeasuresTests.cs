using Consort.Engine.Quantities;
using Xunit;

namespace Consort.Tests.Quantities;

public sealed class MeasuresTests
{
    // Ellis in Helmholtz, On the Sensations of Tone (from memory): 3/2 is 701.955000865 cents.
    [Fact]
    public void A_pure_fifth_is_701_955_cents() =>
        Assert.Equal(701.955000865, Cents.Between(new(440), new(660)).Value, 1e-9);

    [Fact]
    public void A_frequency_moved_by_an_octave_doubles() =>
        Assert.Equal(880, new Hertz(440).Moved(new(1200)).Value, 1e-12);

    [Fact]
    public void Cents_are_written_with_their_sign() => Assert.Equal("-3.2 cents", new Cents(-3.24).ToString());
}
