using BenchmarkDotNet.Columns;
using BenchmarkDotNet.Configs;
using BenchmarkDotNet.Diagnosers;
using BenchmarkDotNet.Jobs;
using BenchmarkDotNet.Loggers;
using BenchmarkDotNet.Reports;
using BenchmarkDotNet.Running;
using BenchmarkDotNet.Toolchains.InProcess.Emit;
using Perfolizer.Horology;

namespace Consort.Bench.Micro;

/// <summary>Runs the BenchmarkDotNet classes in short jobs within this process.</summary>
internal static class MicroStudy
{
    private static readonly Type[] Classes = [typeof(PassBenchmarks), typeof(MotionBenchmarks), typeof(CurveBenchmarks), typeof(FolderBenchmarks), typeof(SoundBenchmarks)];

    public static void Run(Page page, string scratch)
    {
        page.Heading("One by one");
        page.Line("BenchmarkDotNet, short jobs in one process.");
        page.Table(["what", "mean", "median", "deviation", "allocated"], Classes.SelectMany(type => Rows(BenchmarkRunner.Run(type, Config(scratch)))));
    }

    private static ManualConfig Config(string scratch) =>
        ManualConfig
            .CreateEmpty()
            .AddJob(Job.Default.WithToolchain(InProcessEmitToolchain.Instance).WithWarmupCount(3).WithIterationCount(7).WithIterationTime(TimeInterval.FromMilliseconds(200)))
            .AddColumnProvider(DefaultColumnProviders.Instance)
            .AddDiagnoser(MemoryDiagnoser.Default)
            .AddLogger(NullLogger.Instance)
            .WithArtifactsPath(scratch);

    private static IEnumerable<IReadOnlyList<string>> Rows(Summary summary)
    {
        if (summary.HasCriticalValidationErrors || summary.Reports.Any(report => report.ResultStatistics is null))
            throw new InvalidOperationException($"{summary.Title} did not run: {string.Join("; ", summary.ValidationErrors.Select(error => error.Message))}");
        foreach (BenchmarkReport report in summary.Reports)
            yield return
            [
                report.BenchmarkCase.Descriptor.WorkloadMethodDisplayInfo.Trim('\''),
                Figure.Time(report.ResultStatistics!.Mean / 1e9),
                Figure.Time(report.ResultStatistics.Median / 1e9),
                Figure.Time(report.ResultStatistics.StandardDeviation / 1e9),
                $"{report.GcStats.GetBytesAllocatedPerOperation(report.BenchmarkCase) ?? 0} B",
            ];
    }
}
