using Xunit;

namespace Consort.Workbench.Tests.Speed;

/// <summary>Where figures of speed go: the test's output, and the file that CONSORT_BENCH names, where it does.</summary>
internal static class KeptFigures
{
    /// <summary>Adds to both.</summary>
    public static void Keep(ITestOutputHelper output, string lines)
    {
        output.WriteLine(lines);
        if (Environment.GetEnvironmentVariable("CONSORT_BENCH") is { Length: > 0 } file)
            File.AppendAllText(file, lines + "\n");
    }
}
