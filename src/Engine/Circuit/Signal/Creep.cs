using Consort.Engine.Circuit.Linear;

namespace Consort.Engine.Circuit.Signal;

/// <summary>
/// ẋ where a circuit stands: three short steps of backward Euler from there, each twice as long as the one before. Their
/// differences are free of what the state itself lacks of balance, as far as that dies away within them, and what they
/// err by the steps' length is taken off (Richardson); a polynomial through a step's own stages would smear a ramp that
/// bends.
/// </summary>
internal sealed class Creep(Circuit circuit, LuFactors<double> factors)
{
    private const double Shortest = 2e-12; // s
    private const double Share = 1e-3; // of the steps that the run took there

    private readonly double[] matrix = new double[circuit.Pattern.Slots];
    private readonly double[] near = new double[circuit.Length];
    private readonly double[] far = new double[circuit.Length];
    private readonly double[] farthest = new double[circuit.Length];

    /// <summary>The rate of every unknown, per s. Valid until the next call.</summary>
    /// <param name="x">Where it stands.</param>
    /// <param name="time">When, s.</param>
    /// <param name="step">The run's own step there, s.</param>
    public double[] Rate(double[] x, double time, double step)
    {
        double ahead = Math.Max(Shortest, Share * step);
        Step(x, time, ahead, near);
        Step(x, time, 2 * ahead, far);
        Step(x, time, 4 * ahead, farthest);
        for (int i = 1; i < far.Length; i++) // the moves are downwards
            farthest[i] = 2 * (near[i] - far[i]) / ahead - (far[i] - farthest[i]) / (2 * ahead);
        return farthest;
    }

    // The move against which a step of backward Euler goes.
    private void Step(double[] x, double time, double ahead, double[] move)
    {
        x.CopyTo(circuit.Pass.X, 0);
        circuit.Evaluate(time + ahead, Regime.Motion);
        Pass pass = circuit.Pass;
        for (int i = 1; i < matrix.Length; i++)
            matrix[i] = pass.G[i] + pass.C[i] / ahead;
        if (!factors.Factor(matrix))
            throw new InvalidOperationException("a state that was reached cannot be factored again");
        factors.Solve(pass.F, move);
    }
}
