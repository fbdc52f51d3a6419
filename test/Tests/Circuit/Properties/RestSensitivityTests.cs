using Consort.Engine.Circuit;
using Consort.Engine.Circuit.Rest;
using Consort.Engine.Circuit.Signal;
using Consort.Engine.Design;
using Xunit;
using Compiled = Consort.Engine.Circuit.Circuit;

namespace Consort.Tests.Circuit.Properties;

/// <summary>The adjoint's derivative of a reading against central differences of the circuit solved anew.</summary>
public sealed class RestSensitivityTests
{
    private const double Move = 1e-3;

    // What the difference itself may be off by: truncation Move⁴ times a bend, and the rounding of a solve over Move. With
    // 0.1 Ω at 12 V beside 1 MΩ a net is known to 120 S·V · 2e-16 · 1 MΩ = 3e-8 V.
    private const double Share = 1e-5;
    private const double Floor = 3e-8 / Move;

    [Fact]
    public void The_adjoint_gives_what_solving_anew_gives_for_every_parameter_of_random_circuits()
    {
        int telling = 0; // well above the floor
        for (int seed = 2000; seed < 2060; seed++)
        {
            Bench bench = new(RandomCircuit.Text(seed));
            (RestState? rest, _) = new OperatingPoint(bench.Circuit).Find();
            if (rest is null || RestSensitivity.At(bench.Circuit, rest) is not { } sensitivity)
                continue;
            int net = bench.Circuit.Net("n1");
            double[] adjoint = sensitivity.Adjoint((net, 1));
            foreach (Part part in bench.Circuit.Design.Parts)
                foreach (string word in Words(part))
                {
                    double value = bench.Circuit[part.Name, word];
                    double move = Move * Math.Abs(value);
                    if (move == 0 || Difference(bench.Circuit, rest, part.Name, word, move, net) is not { } difference)
                        continue;
                    double slope = sensitivity.Of(adjoint, bench.Circuit.Find(part.Name), word);
                    telling += Math.Abs(slope * value) > 100 * Floor ? 1 : 0;
                    Assert.True(
                        Math.Abs(slope - difference) * Math.Abs(value) <= Share * Math.Abs(slope * value) + Floor,
                        $"seed {seed}, {part.Name} {word}: adjoint {slope:R}, differences {difference:R}"
                    );
                }
        }
        Assert.True(telling > 500, $"only {telling} slopes stand out of the rounding");
    }

    private static IEnumerable<string> Words(Part part) =>
        part.Kind.Word switch
        {
            "resistor" or "voltage source" or "current source" => ["value"],
            "diode" => ["saturation current", "emission coefficient", "series resistance"],
            "npn" or "pnp" => ["saturation current", "forward gain", "forward Early voltage", "base resistance"],
            "op amp" => ["offset", "gain", "bias current", "output resistance"],
            "inductor" => ["series resistance"],
            _ => [],
        };

    // A central difference of two steps (Richardson), so that its own truncation is of the fourth order.
    private static double? Difference(Compiled circuit, RestState rest, string part, string word, double move, int net)
    {
        double value = circuit[part, word];
        double[] at = new double[4];
        (double Factor, int Place)[] moves = [(-2, 0), (-1, 1), (1, 2), (2, 3)];
        foreach ((double factor, int place) in moves)
        {
            circuit[part, word] = value + factor * move;
            (RestState? found, _) = new OperatingPoint(circuit).Find(rest.X);
            at[place] = found is null ? double.NaN : found.X[net];
        }
        circuit[part, word] = value;
        double difference = (8 * (at[2] - at[1]) - (at[3] - at[0])) / (12 * move);
        // A circuit with two states may jump to the other one: then there is no derivative to compare with.
        double rough = (at[3] - at[0]) / (4 * move);
        return double.IsNaN(difference) || Math.Abs(rough - difference) > 1e-2 * Math.Abs(difference) + 1e-3 ? null : difference;
    }
}
