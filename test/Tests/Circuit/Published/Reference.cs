using System.Globalization;

namespace Consort.Tests.Circuit.Published;

/// <summary>Published data in test/Reference: plain numbers, a line each, with source and licence in '#' lines above.</summary>
internal static class Reference
{
    /// <summary>Top of the repository.</summary>
    public static string Root { get; } = FindRoot();

    /// <summary>The numbers of a file.</summary>
    public static double[] Column(string file) =>
        [
            .. File.ReadLines(Path.Combine(Root, "test", "Reference", file))
                .Where(line => line.Length > 0 && line[0] != '#')
                .Select(line => double.Parse(line, CultureInfo.InvariantCulture)),
        ];

    private static string FindRoot()
    {
        DirectoryInfo? folder = new(AppContext.BaseDirectory);
        while (folder is not null && !File.Exists(Path.Combine(folder.FullName, "Consort.slnx")))
            folder = folder.Parent;
        return folder?.FullName ?? throw new DirectoryNotFoundException("no Consort.slnx above the tests");
    }
}
