using Xunit;

namespace Consort.Tests;

/// <summary>Texts that people read, kept whole in test/Golden. CONSORT_GOLDEN=write writes them anew, to be looked at
/// before they are committed.</summary>
internal static class Golden
{
    /// <summary>The repository's folder.</summary>
    public static string Root { get; } = FindRoot();

    /// <summary>The text equals the file of that name.</summary>
    public static void Same(string name, string text)
    {
        string path = Path.Combine(Root, "test", "Golden", name);
        if (Environment.GetEnvironmentVariable("CONSORT_GOLDEN") == "write")
        {
            Directory.CreateDirectory(Path.GetDirectoryName(path)!);
            File.WriteAllText(path, text);
        }
        Assert.True(File.Exists(path), $"{path} is missing: CONSORT_GOLDEN=write makes it");
        Assert.Equal(File.ReadAllText(path), text);
    }

    private static string FindRoot()
    {
        string? folder = AppContext.BaseDirectory;
        while (folder is not null && !File.Exists(Path.Combine(folder, "Consort.slnx")))
            folder = Path.GetDirectoryName(folder);
        return folder ?? throw new DirectoryNotFoundException("the tests run outside the repository");
    }
}
