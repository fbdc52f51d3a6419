using Xunit;

namespace Consort.Tests;

public sealed class HouseTests
{
    [Theory]
    // Data flows one way: what is computed knows nothing of the pages that show it.
    [InlineData("Quantities")]
    [InlineData("Design")]
    [InlineData("Circuit")]
    [InlineData("Orders")]
    [InlineData("Planning")]
    [InlineData("Expected")]
    public void A_folder_that_computes_does_not_reach_into_documents(string folder)
    {
        string place = Path.Combine(Golden.Root, "src", "Engine", folder);
        Assert.NotEmpty(Directory.GetFiles(place, "*.cs", SearchOption.AllDirectories));
        Assert.DoesNotContain(Directory.GetFiles(place, "*.cs", SearchOption.AllDirectories), file => File.ReadAllText(file).Contains("Engine.Documents", StringComparison.Ordinal));
    }
}
