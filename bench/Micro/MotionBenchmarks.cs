using BenchmarkDotNet.Attributes;
using Consort.Engine.Circuit;

namespace Consort.Bench.Micro;

/// <summary>The quartet's lead in motion at the middle of the keyboard.</summary>
public class MotionBenchmarks
{
    private QuartetLead lead = null!;

    [GlobalSetup]
    public void Setup() => lead = new();

    [Benchmark(Description = "one accepted step, all phases of the cycle")]
    public SolveFailure? Step() => lead.Run.Step(QuartetLead.Forever);

    [Benchmark(Description = "one cycle")]
    public int Cycle()
    {
        int next = lead.Run.Crossings.Count + 1;
        while (lead.Run.Crossings.Count < next && lead.Run.Step(QuartetLead.Forever) is null) { }
        return next;
    }
}
