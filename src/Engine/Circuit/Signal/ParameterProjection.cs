namespace Consort.Engine.Circuit.Signal;

/// <summary>
/// λ·∂f/∂p + μ·∂q/∂p for many parameters at one state. Parameters that act through the constant share of the equations
/// (resistors, capacitors, trimmers) have their derivative by slot worked out once; the others have their part stamped
/// anew at each state (<see cref="ParameterSlope"/>).
/// </summary>
internal sealed class ParameterProjection
{
    private readonly ParameterPlace[] parameters;
    private readonly ParameterSlope slope;
    private readonly int[] bent; // those that are not linear
    private readonly List<(int Parameter, int Row, int Column, double G, double C)> linear = [];

    public ParameterProjection(Circuit circuit, ParameterPlace[] parameters)
    {
        this.parameters = parameters;
        slope = new(circuit);
        List<int> others = [];
        for (int p = 0; p < parameters.Length; p++)
            if (slope.ByConstantSlots(parameters[p].Part, parameters[p].Word) is { } slots)
                foreach ((int slot, double g, double c) in slots)
                    linear.Add((p, circuit.Pattern.Rows[slot], circuit.Pattern.Columns[slot], g, c));
            else
                others.Add(p);
        bent = [.. others];
    }

    /// <summary>Whose derivatives they are, in the order of the totals.</summary>
    public ParameterPlace[] Parameters => parameters;

    /// <summary>totals −= ofF·∂f/∂p + factor·ofQ·∂q/∂p for every parameter.</summary>
    public void Add(double[] x, double time, double[] ofF, double[] ofQ, double factor, double[] totals)
    {
        foreach ((int p, int row, int column, double g, double c) in linear)
            totals[p] -= (ofF[row] * g + factor * ofQ[row] * c) * x[column];
        foreach (int p in bent)
        {
            slope.At(parameters[p].Part, parameters[p].Word, x, time, Regime.Motion);
            totals[p] -= slope.Project(ofF, ofQ, factor);
        }
    }
}
