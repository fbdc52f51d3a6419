using Consort.Bench.Comparison;
using Consort.Bench.Micro;
using Consort.Bench.Timings;

namespace Consort.Bench;

/// <summary>The whole page of results, ratios first, and its parts.</summary>
internal static class Sections
{
    private const string Python = "/usr/bin/python3";

    /// <summary>Measures everything and writes bench/results/DATE-MACHINE.md; false when a part fails.</summary>
    /// <param name="commit">What was built.</param>
    /// <param name="clock">For the date.</param>
    public static bool Everything(string commit, TimeProvider clock)
    {
        Machine machine = Machine.This();
        string date = clock.GetUtcNow().ToString("yyyy-MM-dd");
        string before = Machine.Load();
        Page page = new(Console.Out);
        page.Line($"# {date}, {machine.Processor}, {machine.Cores} cores");
        page.Line();
        page.Line($"{Machine.Software}; commit {commit}. What the tables mean: bench/README.md.");
        Page details = new(TextWriter.Null);
        if (!SideBySide(page, details))
            return false;
        StepStudy.Run(page);
        MicroStudy.Run(page, Path.Combine(Path.GetTempPath(), "consort-bench"));
        ProveStudy.Run(page);
        Builds.BuildSpeed.Run(page);
        page.Append(details);
        page.Line($"Programs that wanted to run, in the last minute: {before} before, {Machine.Load()} after.");
        Directory.CreateDirectory("bench/results");
        string file = $"bench/results/{date}-{machine.Slug}.md";
        File.WriteAllText(file + ".new", page.ToString());
        File.Move(file + ".new", file, overwrite: true);
        Console.Error.WriteLine($"bench: written to {file}");
        return true;
    }

    /// <summary>Our engine against SciPy; false when SciPy is missing or a side fails.</summary>
    public static bool SideBySide(Page ratios, Page details)
    {
        (SciPy? sciPy, string? why) = SciPy.Start(Python, "bench/Comparison/saw.py");
        using (sciPy)
        {
            if (sciPy is null)
                Console.Error.WriteLine($"bench: {Python} has no SciPy; install it with 'apt-get install python3-scipy'\n{why}");
            else if (new SideBySide([new("bench/Comparison/saw.yaml", 0.01), new("bench/Comparison/saw.yaml", 0.003)], sciPy).Run(ratios, details))
                return true;
            else
                Console.Error.WriteLine("bench: one of the two could not reach the asked error; the equations or the solvers have changed");
            return false;
        }
    }
}
