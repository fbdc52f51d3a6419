using System.Text.RegularExpressions;
using Xunit;

namespace Consort.Tests.Cli;

/// <summary>Pages for people that the program itself keeps true.</summary>
public sealed partial class PagesTests
{
    [Fact]
    public Task The_readme_shows_what_solve_prints() => IsCurrent("solve");

    [Fact]
    public Task The_readme_shows_what_panel_prints() => IsCurrent("panel");

    [Fact]
    public Task The_readme_shows_what_parts_prints() => IsCurrent("parts");

    [Fact]
    public Task The_readme_shows_what_plan_prints() => IsCurrent("plan");

    [Fact]
    [Trait("Runs", "Long")]
    public Task The_readme_shows_what_respond_prints() => IsCurrent("respond");

    [Fact]
    public Task The_readme_shows_what_measure_prints() => IsCurrent("measure");

    [Fact]
    [Trait("Runs", "Long")]
    public Task The_readme_shows_what_prove_prints() => IsCurrent("prove");

    [Fact]
    [Trait("Runs", "Long")]
    public Task The_readme_shows_what_scope_prints() => IsCurrent("scope");

    [Fact]
    [Trait("Runs", "Long")]
    public Task The_readme_shows_what_listen_prints() => IsCurrent("listen");

    private static async Task IsCurrent(string verb)
    {
        string path = Path.Combine(Golden.Root, "README.md");
        string page = await File.ReadAllTextAsync(path, TestContext.Current.CancellationToken);
        string current = page;
        foreach (Match shown in Shown().Matches(page).Where(shown => shown.Groups["call"].Value.StartsWith(verb, StringComparison.Ordinal)))
            current = current.Replace(shown.Value, $"<!-- consort {shown.Groups["call"].Value} -->\n```\n{await Output(shown.Groups["call"].Value)}```", StringComparison.Ordinal);
        if (Environment.GetEnvironmentVariable("CONSORT_GOLDEN") == "write")
            await File.WriteAllTextAsync(path, current, TestContext.Current.CancellationToken);
        else
            Assert.Equal(current, page);
    }

    [Fact]
    public void Every_name_of_a_proofs_json_stands_in_its_page()
    {
        string page = File.ReadAllText(Path.Combine(Golden.Root, "docs", "json.md"));
        string shape = File.ReadAllText(Path.Combine(Golden.Root, "test", "Golden", "cli", "prove-json-shape.txt"));
        string[] missing =
        [
            .. Names().Matches(shape).Select(name => name.Groups[1].Value).Distinct()
                .Where(name => !page.Contains($"`{name}`", StringComparison.Ordinal)),
        ];
        Assert.Empty(missing);
    }

    private static async Task<string> Output(string call)
    {
        string[] words = [.. Words().Matches(call).Select(word => word.Value.Trim('"'))];
        string scratch = Directory.CreateTempSubdirectory("consort").FullName + Path.DirectorySeparatorChar; // for what a call writes
        Call made = await Call.Of([.. words.Select(Placed)]);
        Directory.Delete(scratch, recursive: true);
        Assert.Empty(made.Error);
        return made.Output.Replace(scratch, "", StringComparison.Ordinal);

        string Placed(string word) =>
            word.StartsWith("examples/", StringComparison.Ordinal) ? Path.Combine(Golden.Root, word)
            : word.EndsWith(".wav", StringComparison.Ordinal) ? scratch + word
            : word;
    }

    [GeneratedRegex("<!-- consort (?<call>[^\n]*) -->\n```\n.*?```", RegexOptions.Singleline)]
    private static partial Regex Shown();

    [GeneratedRegex("\"[^\"]*\"|[^ ]+")]
    private static partial Regex Words();

    [GeneratedRegex("\\.([a-zA-Z]+)")]
    private static partial Regex Names();
}
