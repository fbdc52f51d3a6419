using System.Text.Json;
using Consort.Cli;
using Xunit;

namespace Consort.Tests.Cli;

public sealed class PartsVerbTests
{
    private static readonly string Pair = Path.Combine(Golden.Root, "examples", "pair");

    [Fact]
    public async Task The_tables_and_the_kit_read_as_kept() =>
        Golden.Same("cli/parts-pair.txt", (await Call.Of("parts", Pair, "--units", "12", "--kit")).ToString());

    [Fact]
    public async Task No_line_is_wider_than_a_hundred_columns()
    {
        foreach (string example in new[] { "quartet", "pair", "patched", "shoestring" })
            foreach (string line in (await Call.Of("parts", Path.Combine(Golden.Root, "examples", example), "--units", "250", "--kit")).Output.Split('\n'))
                Assert.True(line.Length <= Screen.PlainWidth, line);
    }

    [Fact]
    public async Task The_json_holds_every_line_and_its_names_stand_in_the_page()
    {
        JsonElement json = JsonDocument.Parse((await Call.Of("parts", Pair, "--json")).Output).RootElement;
        Assert.Equal(("consort parts", 1), (json.GetProperty("shape").GetString(), json.GetProperty("version").GetInt32()));
        Assert.True(json.GetProperty("lines").GetArrayLength() > 40);
        JsonPage.Names(json);
    }

    [Fact]
    public async Task Files_are_written_whole_beside_the_tables()
    {
        string folder = Directory.CreateTempSubdirectory("consort").FullName;
        try
        {
            string csv = Path.Combine(folder, "a.csv"), book = Path.Combine(folder, "a.xlsx");
            Assert.Equal(Exit.Done, (await Call.Of("parts", Pair, "--csv", csv, "--xlsx", book)).Code);
            Assert.StartsWith("kind,what,package", await File.ReadAllTextAsync(csv, TestContext.Current.CancellationToken), StringComparison.Ordinal);
            Assert.Equal(2, Directory.GetFiles(folder).Length);
        }
        finally
        {
            Directory.Delete(folder, recursive: true);
        }
    }

    [Theory]
    [InlineData("none", "--units", "0")]
    [InlineData("words", "--units", "some")]
    public async Task A_wrong_number_of_units_is_bad_input(string name, string option, string value)
    {
        Call call = await Call.Of("parts", Pair, option, value);
        Assert.Equal((Exit.BadInput, ""), (call.Code, call.Output));
        Golden.Same($"cli/error-parts-{name}.txt", call.Error);
    }

    [Fact]
    public async Task A_file_that_cannot_be_written_is_bad_input()
    {
        Call call = await Call.Of("parts", Pair, "--csv", "/nowhere at all/a.csv");
        Assert.Equal(Exit.BadInput, call.Code);
        Assert.Contains("mend: name a file in a folder", call.Error, StringComparison.Ordinal);
    }
}
