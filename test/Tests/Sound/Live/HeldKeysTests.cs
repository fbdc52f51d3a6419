using Consort.Engine.Sound.Live;
using Xunit;

namespace Consort.Tests.Sound.Live;

public sealed class HeldKeysTests
{
    [Fact]
    public void Of_several_keys_the_last_one_is_played_and_the_one_before_when_it_comes_up()
    {
        HeldKeys keys = new();
        Assert.Null(keys.Played);
        keys.Press(57);
        keys.Press(64);
        Assert.Equal(64, keys.Played);
        keys.Release(64);
        Assert.Equal(57, keys.Played);
        keys.Release(57);
        keys.Release(57);
        Assert.Null(keys.Played);
    }
}
