using System.Runtime.InteropServices;
using System.Text.RegularExpressions;

namespace Consort.Bench;

/// <summary>What it ran on; says nothing of whose machine it is.</summary>
/// <param name="Processor">As the processor names itself.</param>
/// <param name="Cores">Logical ones that the program may use.</param>
internal sealed partial record Machine(string Processor, int Cores)
{
    /// <summary>This one.</summary>
    public static Machine This() => new(ReadProcessor(), Environment.ProcessorCount);

    /// <summary>For a file's name: amd-epyc-2.</summary>
    public string Slug => $"{Odd().Replace(Processor.ToLowerInvariant(), "-").Trim('-')}-{Cores}";

    /// <summary>Runtime and system.</summary>
    public static string Software => $"{RuntimeInformation.FrameworkDescription}, {RuntimeInformation.ProcessArchitecture}";

    /// <summary>How many programs wanted to run in the last minute; empty where the system does not say.</summary>
    public static string Load() => File.Exists("/proc/loadavg") ? File.ReadAllText("/proc/loadavg").Split(' ')[0] : "";

    private static string ReadProcessor()
    {
        string? line = File.Exists("/proc/cpuinfo") ? File.ReadLines("/proc/cpuinfo").FirstOrDefault(l => l.StartsWith("model name", StringComparison.Ordinal)) : null;
        return line is null ? RuntimeInformation.ProcessArchitecture.ToString() : line[(line.IndexOf(':') + 1)..].Trim();
    }

    [GeneratedRegex("[^a-z0-9]+", RegexOptions.None, matchTimeoutMilliseconds: 1000)]
    private static partial Regex Odd();
}
