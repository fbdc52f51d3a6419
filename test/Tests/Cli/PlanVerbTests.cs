using System.Xml.Linq;
using Consort.Cli;
using Xunit;

namespace Consort.Tests.Cli;

public sealed class PlanVerbTests
{
    private static readonly string Pair = Path.Combine(Golden.Root, "examples", "pair");

    [Fact]
    public async Task One_way_in_full_reads_as_kept_and_pictures_are_drawn_of_every_way_in_black_on_white()
    {
        DirectoryInfo folder = Directory.CreateTempSubdirectory("consort-");
        try
        {
            string pictures = Path.Combine(folder.FullName, "ways"), written = Path.Combine(folder.FullName, "wired.yaml");
            Call call = await Call.Of("plan", Pair, "--way", "4", "--out", written, "--pictures", pictures);
            Golden.Same("cli/plan-pair-way.txt", call.ToString());
            Assert.StartsWith("voice: pair\n", await File.ReadAllTextAsync(written, TestContext.Current.CancellationToken), StringComparison.Ordinal);
            string[] files = Directory.GetFiles(pictures, "*.svg");
            Assert.Equal(8, files.Length);
            foreach (string file in files)
            {
                XDocument svg = XDocument.Load(file);
                Assert.Equal("svg", svg.Root!.Name.LocalName);
                Assert.All(svg.Descendants().Attributes().Where(attribute => attribute.Value.StartsWith('#')), attribute => Assert.True(IsGrey(attribute.Value), attribute.Value));
            }
        }
        finally
        {
            folder.Delete(recursive: true);
        }
    }

    [Theory]
    [InlineData("no-such-way", "--way", "0")]
    [InlineData("out-alone", "--out", "a.yaml")]
    public async Task A_wrong_way_is_bad_input(string name, string option, string value)
    {
        Call call = await Call.Of("plan", Pair, option, value);
        Assert.Equal((Exit.BadInput, ""), (call.Code, call.Output));
        Golden.Same($"cli/error-plan-{name}.txt", call.Error);
    }

    private static bool IsGrey(string colour) =>
        colour is "#000" or "#fff" || (colour.Length == 7 && colour[1..3] == colour[3..5] && colour[3..5] == colour[5..7]);
}
