using System.Text.Json;
using Consort.Cli;
using Xunit;

namespace Consort.Tests.Cli;

public sealed class PanelVerbTests
{
    private static readonly string Quartet = Path.Combine(Golden.Root, "examples", "quartet");

    [Fact]
    public async Task The_tables_read_as_kept() => Golden.Same("cli/panel-quartet.txt", (await Call.Of("panel", Quartet)).ToString());

    [Fact]
    public async Task The_names_of_the_json_stand_in_the_page()
    {
        JsonElement json = JsonDocument.Parse((await Call.Of("panel", Quartet, "--json")).Output).RootElement;
        Assert.Equal(2, json.GetProperty("panels").GetArrayLength());
        JsonPage.Names(json);
    }

    [Fact]
    public async Task A_broken_rule_gives_exit_code_1_and_the_file_line_and_column_and_the_drawings_all_the_same()
    {
        string folder = Directory.CreateTempSubdirectory("consort").FullName;
        try
        {
            foreach (string path in Directory.EnumerateFiles(Quartet, "*.yaml", SearchOption.AllDirectories))
            {
                string to = Path.Combine(folder, Path.GetRelativePath(Quartet, path));
                Directory.CreateDirectory(Path.GetDirectoryName(to)!);
                string text = await File.ReadAllTextAsync(path, TestContext.Current.CancellationToken);
                await File.WriteAllTextAsync(to, text.Replace("J2: {at: [31.5 mm, 87 mm]}", "J2: {at: [21.7 mm, 87 mm]}", StringComparison.Ordinal), TestContext.Current.CancellationToken);
            }
            Call call = await Call.Of("panel", folder, "--module", "quartet-lead", "--out", Path.Combine(folder, "out"));
            Assert.Equal(Exit.LimitMissed, call.Code);
            Golden.Same("cli/error-panel-rules.txt", call.Error.Replace(folder.Replace('\\', '/'), "FOLDER", StringComparison.Ordinal));
            Assert.Equal(10, Directory.GetFiles(Path.Combine(folder, "out")).Length);
        }
        finally
        {
            Directory.Delete(folder, recursive: true);
        }
    }

    [Theory]
    [InlineData("module", "--module", "quartet-leed")]
    [InlineData("copper", "--copper", "gold")]
    public async Task A_wrong_word_is_bad_input(string name, string option, string value)
    {
        Call call = await Call.Of("panel", Quartet, option, value);
        Assert.Equal((Exit.BadInput, ""), (call.Code, call.Output));
        Golden.Same($"cli/error-panel-{name}.txt", call.Error);
    }
}
