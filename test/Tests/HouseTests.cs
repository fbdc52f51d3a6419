using Xunit;

namespace Consort.Tests;

public sealed class HouseTests
{
    [Fact]
    public void The_house_stands() => Assert.True(true);
}
