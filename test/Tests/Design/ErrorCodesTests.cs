using System.Text.RegularExpressions;
using Consort.Engine.Design;
using Xunit;

namespace Consort.Tests.Design;

public sealed class ErrorCodesTests
{
    [Fact]
    public void Every_code_is_C_and_three_digits_and_given_once()
    {
        Assert.All(ErrorCodes.All, code => Assert.Matches(new Regex(@"^C\d{3}$", RegexOptions.NonBacktracking), code.Code));
        Assert.Equal(ErrorCodes.All.Length, ErrorCodes.All.Select(code => code.Code).Distinct().Count());
    }

    [Fact]
    public void The_table_holds_every_code_of_every_file()
    {
        string[] written =
        [
            .. Directory.EnumerateFiles(Path.Combine(Golden.Root, "src", "Engine", "Design"), "ErrorCodes.*.cs")
                .SelectMany(file => Regex.Matches(File.ReadAllText(file), @"= new\(""(?<code>C\d{3})""", RegexOptions.NonBacktracking))
                .Select(match => match.Groups["code"].Value).Order(StringComparer.Ordinal),
        ];
        Assert.Equal(written, ErrorCodes.All.Select(code => code.Code));
    }

    [Fact]
    public void The_page_of_codes_is_the_table()
    {
        string path = Path.Combine(Golden.Root, "docs", "errors.md");
        if (Environment.GetEnvironmentVariable("CONSORT_GOLDEN") == "write")
            File.WriteAllText(path, ErrorCodes.ToMarkdown());
        Assert.Equal(File.ReadAllText(path), ErrorCodes.ToMarkdown());
    }

    [Fact]
    public void Every_code_of_files_circuits_and_modules_is_met_by_a_test()
    {
        string folder = Path.Combine(Golden.Root, "test");
        string seen = string.Concat(
            Directory.EnumerateFiles(folder, "*.txt", SearchOption.AllDirectories)
                .Concat(Directory.EnumerateFiles(Path.Combine(folder, "Tests", "Design"), "*.cs"))
                .Concat(Directory.EnumerateFiles(Path.Combine(folder, "Tests", "Documents", "Panels"), "*.cs"))
                .Select(File.ReadAllText));
        Assert.Empty(ErrorCodes.All.Where(code => string.CompareOrdinal(code.Code, "C100") < 0 && !seen.Contains(code.Code, StringComparison.Ordinal)).Select(code => code.Code));
    }
}
