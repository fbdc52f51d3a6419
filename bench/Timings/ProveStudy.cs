using System.Diagnostics;
using System.Globalization;

namespace Consort.Bench.Timings;

/// <summary>How long a person waits for <c>./consort prove</c>, from the start of the process to its end.</summary>
internal static class ProveStudy
{
    private const int Runs = 5;
    private const double Patience = 60; // s for one example; then fewer runs have to do

    // The shell tells how long a processor worked for it, which the clock does not when others work too.
    private const string Timed = "TIMEFORMAT='%U %S'; time ./consort \"$@\" >/dev/null 2>&1";

    private readonly record struct Taken(double Clock, double Processor);

    public static void Run(Page page)
    {
        page.Heading("Proofs");
        page.Line("`./consort prove` from the start of the process to its end, already built, files already read once. The last column is");
        page.Line("the time for which processors worked for it.");
        _ = Time(["kinds"]); // builds when a source is newer, and warms the disk
        page.Table(["voice", "median", "fastest", "slowest", "runs", "of processors, least"], Examples.Names.Select(Row));
    }

    private static IReadOnlyList<string> Row(string name)
    {
        List<Taken> taken = [];
        while (taken.Count < Runs && taken.Sum(run => run.Clock) < Patience)
            taken.Add(Time(["prove", $"examples/{name}"]));
        double[] clock = [.. taken.Select(run => run.Clock).Order()];
        double median = 0.5 * (clock[(clock.Length - 1) / 2] + clock[clock.Length / 2]);
        return [name, Figure.Time(median), Figure.Time(clock[0]), Figure.Time(clock[^1]), $"{clock.Length}", Figure.Time(taken.Min(run => run.Processor))];
    }

    private static Taken Time(string[] words)
    {
        Stopwatch watch = Stopwatch.StartNew();
        using Process process = Process.Start(new ProcessStartInfo("bash", ["-c", Timed, "bash", .. words]) { UseShellExecute = false, RedirectStandardError = true })!;
        string times = process.StandardError.ReadToEnd();
        process.WaitForExit();
        double seconds = watch.Elapsed.TotalSeconds;
        if (process.ExitCode is not (0 or 1)) // 1 is a limit that is missed: a finished proof all the same
            throw new InvalidOperationException($"./consort {string.Join(' ', words)} ended with {process.ExitCode}");
        return new(seconds, times.Split((char[]?)null, StringSplitOptions.RemoveEmptyEntries).Sum(word => double.Parse(word, CultureInfo.InvariantCulture)));
    }
}
