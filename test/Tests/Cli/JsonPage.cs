using System.Text.Json;
using Xunit;

namespace Consort.Tests.Cli;

/// <summary>docs/json.md against what verbs print.</summary>
internal static class JsonPage
{
    /// <summary>Every name of a document stands in the page, in the section of its shape.</summary>
    public static void Names(JsonElement document)
    {
        string shape = document.GetProperty("shape").GetString()!;
        string page = File.ReadAllText(Path.Combine(Golden.Root, "docs", "json.md"));
        string? section = page.Split("\n## ").FirstOrDefault(part => part.Contains($"shape `{shape}`", StringComparison.Ordinal));
        Assert.True(section is not null, $"docs/json.md has no section of shape '{shape}'");
        string[] missing = [.. In(document).Distinct().Where(name => name is not ("shape" or "version") && !section.Contains($"`{name}`", StringComparison.Ordinal))];
        Assert.True(missing.Length == 0, $"docs/json.md does not name {string.Join(", ", missing)}");
    }

    private static IEnumerable<string> In(JsonElement element) =>
        element.ValueKind switch
        {
            JsonValueKind.Object => element.EnumerateObject().SelectMany(member => In(member.Value).Prepend(member.Name)),
            JsonValueKind.Array => element.EnumerateArray().SelectMany(In),
            _ => [],
        };
}
