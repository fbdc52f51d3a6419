using Consort.Engine.Circuit.Linear;
using Consort.Engine.Circuit.Rest;

namespace Consort.Engine.Circuit.Signal;

/// <summary>
/// How a reading at rest answers to every parameter, by the adjoint (Director &amp; Rohrer, IEEE Trans. Circuit Theory
/// CT-16 (1969) 318): one transposed solve for a reading, then a product for each parameter.
/// </summary>
public sealed class RestSensitivity
{
    private readonly Circuit circuit;
    private readonly RestState state;
    private readonly LuFactors<double> factors;
    private readonly ParameterSlope slope;

    private RestSensitivity(Circuit circuit, RestState state, LuFactors<double> factors)
    {
        (this.circuit, this.state, this.factors) = (circuit, state, factors);
        slope = new(circuit);
    }

    /// <summary>Prepares for readings at an operating point; null when its matrix is singular.</summary>
    public static RestSensitivity? At(Circuit circuit, RestState state)
    {
        state.X.CopyTo(circuit.Pass.X, 0);
        circuit.Evaluate(0, Regime.Rest);
        if (circuit.RestProgram is { } known && new LuFactors<double>(known) is var usual && usual.Factor(circuit.Pass.G))
            return new(circuit, state, usual);
        if (LuOrder.Find(circuit.Pattern, circuit.Pass.G) is not { } program)
            return null;
        LuFactors<double> factors = new(program);
        return factors.Factor(circuit.Pass.G) ? new(circuit, state, factors) : null;
    }

    /// <summary>The adjoint of a reading that is a weighted sum of unknowns.</summary>
    public double[] Adjoint(params ReadOnlySpan<(int Unknown, double Weight)> reading)
    {
        double[] right = new double[circuit.Length];
        foreach ((int unknown, double weight) in reading)
            right[unknown] += weight;
        double[] adjoint = new double[circuit.Length];
        factors.SolveTransposed(right, adjoint);
        return adjoint;
    }

    /// <summary>d(reading)/d(parameter), in the reading's unit per SI unit of the parameter.</summary>
    public double Of(double[] adjoint, PartPlace place, string word)
    {
        slope.At(place, word, state.X, 0, Regime.Rest);
        return -slope.Project(adjoint, adjoint, 0);
    }
}
