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

    // A sum of currents cannot be more exact than the products of conductance and voltage that it is made of.
    private const double Rounding = 1e-13;

    // What Newton's last move may still be, times a conductance: junctions amplify it by 1/VT at most.
    private const double LeastCurrent = 1e-14;

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
            if (WorstNet(bench.Circuit, rest.X) is { } wrong)
                surplus.Add($"seed {seed}, {rest.Method}: {wrong}");
        }
        foreach ((string method, int count) in methods)
            output.WriteLine($"{count} by {method}");
        failures.ForEach(output.WriteLine);
        Assert.True(surplus.Count == 0, string.Join('\n', surplus));
        Assert.True(failures.Count < Circuits / 50, string.Join('\n', failures));
    }

    private static string? WorstNet(Compiled circuit, double[] x)
    {
        double[] sum = new double[circuit.Length];
        double[] size = new double[circuit.Length];
        foreach (Part part in circuit.Design.Parts)
            foreach ((string terminal, double amperes) in circuit.Currents(part.Name, x, 0, Regime.Rest))
                sum[circuit.Net(part.NetAt(terminal)!)] += amperes;
        x.CopyTo(circuit.Pass.X, 0);
        circuit.Evaluate(0, Regime.Rest);
        for (int slot = 1; slot < circuit.Pattern.Slots; slot++)
            size[circuit.Pattern.Rows[slot]] += Math.Abs(circuit.Pass.G[slot] * x[circuit.Pattern.Columns[slot]]);
        (double Share, string? What) worst = (1, null);
        foreach ((string net, int row) in circuit.Nets)
        {
            double share = Math.Abs(sum[row]) / (Rounding * size[row] + LeastCurrent);
            if (row > 0 && !(share <= worst.Share))
                worst = (share, $"{sum[row]:E2} A too much at '{net}', whose terms add up to {size[row]:E2} A");
        }
        return worst.What;
    }
}
