using System.Diagnostics;
using System.Globalization;
using System.Runtime.CompilerServices;
using Consort.Engine.Bench;
using Consort.Engine.Bench.History;

namespace Consort.Tests.Measuring.History;

/// <summary>A second process that does nothing but record sittings and say the number of each one that was answered for. It is
/// this very program, which looks at its environment before any test runs.</summary>
internal static class WriterProcess
{
    private const string File = "CONSORT_TEST_WRITES", Name = "CONSORT_TEST_SERIAL", Count = "CONSORT_TEST_COUNT";

    public const int Readings = 5;

    public static Process Start(string file, string serial, int count)
    {
        ProcessStartInfo start = new(Path.ChangeExtension(typeof(WriterProcess).Assembly.Location, OperatingSystem.IsWindows() ? ".exe" : null)!)
        {
            UseShellExecute = false,
            RedirectStandardOutput = true,
            Environment = { [File] = file, [Name] = serial, [Count] = count.ToString(CultureInfo.InvariantCulture) },
        };
        return Process.Start(start)!;
    }

#pragma warning disable CA2255 // a test program is no library
    [ModuleInitializer]
#pragma warning restore CA2255
    internal static void Write()
    {
        if (Environment.GetEnvironmentVariable(File) is not { } file)
            return;
        (UnitLog? log, _) = UnitLog.Open(file);
        using Stream output = Console.OpenStandardOutput();
        using StreamWriter words = new(output) { AutoFlush = true };
        UnitName unit = new("toy", Environment.GetEnvironmentVariable(Name)!);
        int count = int.Parse(Environment.GetEnvironmentVariable(Count)!, CultureInfo.InvariantCulture);
        for (int i = 1; log is not null && i <= count; i++)
        {
            if (log.Record([Entries.Sitting(unit, Entries.Noon.AddSeconds(i), Readings)]) is not null)
                Environment.Exit(3);
            words.WriteLine(i);
        }
        log?.Dispose();
        Environment.Exit(log is null ? 4 : 0);
    }
}
