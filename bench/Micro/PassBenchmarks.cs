using BenchmarkDotNet.Attributes;
using Consort.Engine.Circuit;

namespace Consort.Bench.Micro;

/// <summary>The three parts of a Newton pass in the quartet's lead.</summary>
public class PassBenchmarks
{
    private QuartetLead lead = null!;

    [GlobalSetup]
    public void Setup() => lead = new();

    [Benchmark(Description = "evaluate all parts of the quartet's lead")]
    public void Evaluate() => lead.Circuit.Evaluate(0, Regime.Motion);

    [Benchmark(Description = "factor its matrix")]
    public bool Factor() => lead.Factors.Factor(lead.Matrix);

    [Benchmark(Description = "solve with the factors")]
    public void Solve() => lead.Factors.Solve(lead.Right, lead.Answer);
}
