using System.Diagnostics;

namespace Consort.Bench.Timings;

/// <summary>How long a person waits for <c>./consort prove</c>, from the start of the process to its end.</summary>
internal static class ProveStudy
{
    private const int Runs = 5;
    private const double Patience = 60; // s for one example; then fewer runs have to do

    public static void Run(Page page)
    {
        page.Heading("Proofs");
        page.Line("`./consort prove` from the start of the process to its end, already built, files already read once.");
        _ = Time(["kinds"]); // builds when a source is newer, and warms the disk
        page.Table(["voice", "median", "fastest", "slowest", "runs"], Examples.Names.Select(Row));
    }

    private static IReadOnlyList<string> Row(string name)
    {
        List<double> taken = [];
        while (taken.Count < Runs && taken.Sum() < Patience)
            taken.Add(Time(["prove", $"examples/{name}"]));
        taken.Sort();
        return [name, Figure.Time(Median(taken)), Figure.Time(taken[0]), Figure.Time(taken[^1]), $"{taken.Count}"];
    }

    private static double Median(List<double> sorted) => 0.5 * (sorted[(sorted.Count - 1) / 2] + sorted[sorted.Count / 2]);

    private static double Time(string[] words)
    {
        Stopwatch watch = Stopwatch.StartNew();
        using Process process = Process.Start(new ProcessStartInfo("./consort", words) { UseShellExecute = false, RedirectStandardOutput = true, RedirectStandardError = true })!;
        Task<string> complaints = process.StandardError.ReadToEndAsync();
        _ = process.StandardOutput.ReadToEnd();
        process.WaitForExit();
        double seconds = watch.Elapsed.TotalSeconds;
        // 1 is a limit that is missed: a finished proof all the same.
        return process.ExitCode is 0 or 1
            ? seconds
            : throw new InvalidOperationException($"consort {string.Join(' ', words)} ended with {process.ExitCode}: {complaints.Result}");
    }
}
