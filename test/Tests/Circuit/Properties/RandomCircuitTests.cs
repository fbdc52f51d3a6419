using Consort.Engine.Circuit;
using Consort.Engine.Circuit.Rest;
using Consort.Engine.Design;
using Xunit;
using Compiled = Consort.Engine.Circuit.Circuit;

namespace Consort.Tests.Circuit.Properties;

/// <summary>A thousand circuits that nobody drew: no outside source is needed for Kirchhoff's laws.</summary>
public sealed class RandomCircuitTests(ITestOutputHelper output)
{
    private const int Circuits = 1000;

    [Fact]
    public void Random_circuits_rest_with_Kirchhoffs_current_law_met_or_say_where_they_failed()
    {
        List<string> failures = [];
        List<string> surplus = [];
        Dictionary<string, int> methods = [];
        for (int seed = 0; seed < Circuits; seed++)
        {
            Bench bench = new(RandomCircuit.Text(seed));
            (RestState? rest, SolveFailure? failure) = new OperatingPoint(bench.Circuit).Find();
            if (rest is null)
            {
                Assert.NotNull(failure);
                Assert.Contains(bench.Circuit.Unknowns, unknown => unknown.Name == failure.Unknown);
                Assert.NotEqual("", failure.What);
                failures.Add($"seed {seed}: {failure}");
                continue;
            }
            methods[rest.Method] = methods.GetValueOrDefault(rest.Method) + 1;
            Assert.InRange(rest.Passes, 1, 5000);
            if (Kirchhoff.Breach(bench.Circuit, rest.X) is { } wrong)
                surplus.Add($"seed {seed}, {rest.Method}: {wrong}");
        }
        foreach ((string method, int count) in methods)
            output.WriteLine($"{count} by {method}");
        failures.ForEach(output.WriteLine);
        Assert.Equal(["Newton", "creeping to rest", "gmin stepping"], methods.Keys.Order(StringComparer.Ordinal)); // none is idle
        Assert.True(surplus.Count == 0, string.Join('\n', surplus));
        Assert.True(failures.Count < Circuits / 50, string.Join('\n', failures));
    }
}
