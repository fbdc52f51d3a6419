using Consort.Engine.Circuit;
using Consort.Engine.Circuit.Signal;

namespace Consort.Engine.Pitch.Builds.PitchPath;

/// <summary>One part's own equations at rest, apart from the circuit: what it adds to f and ∂f/∂x at a state.</summary>
internal sealed class PartAlone
{
    private readonly Circuit.Circuit circuit;
    private readonly Pass pass;
    private readonly int[] slots;
    private readonly bool withConstants;

    /// <summary>For a part of a circuit, at whatever parameters and temperature that has.</summary>
    /// <param name="withConstants">False to leave out what it stamps once for all, as resistances in series.</param>
    public PartAlone(Circuit.Circuit circuit, PartPlace place, bool withConstants = true)
    {
        (this.circuit, Place, this.withConstants) = (circuit, place, withConstants);
        pass = circuit.NewPass();
        pass.Regime = Regime.Rest;
        Footprint footprint = circuit.Footprints.Of(place);
        slots = [.. footprint.Slots.Where(slot => slot > 0)];
        Rows = [.. footprint.Rows.Where(row => row > 0)];
        Columns = [.. slots.Select(slot => circuit.Pattern.Columns[slot]).Where(column => column > 0).Distinct().Order()];
    }

    /// <summary>The part.</summary>
    public PartPlace Place { get; }

    /// <summary>Rows that it may touch.</summary>
    public int[] Rows { get; }

    /// <summary>Unknowns that it may read.</summary>
    public int[] Columns { get; }

    /// <summary>Slots that it may touch.</summary>
    public IReadOnlyList<int> Slots => slots;

    /// <summary>The state to evaluate at; only <see cref="Columns"/> are read.</summary>
    public double[] X => pass.X;

    /// <summary>f by row, after <see cref="Evaluate()"/>.</summary>
    public double[] F => pass.F;

    /// <summary>∂f/∂x by slot.</summary>
    public double[] G => pass.G;

    /// <summary>Temperature, K; the circuit's own until it is set. The part must have been prepared for it.</summary>
    public double Kelvin { get; set; }

    /// <summary>Evaluates at a state of the whole circuit.</summary>
    public void Evaluate(double[] x)
    {
        foreach (int column in Columns)
            X[column] = x[column];
        Evaluate();
    }

    /// <summary>Evaluates at <see cref="X"/>.</summary>
    public void Evaluate()
    {
        int[] rows = circuit.Pattern.Rows;
        int[] columns = circuit.Pattern.Columns;
        pass.Temperature = Kelvin > 0 ? Kelvin : circuit.Temperature;
        foreach (int row in Rows)
            pass.F[row] = pass.Q[row] = 0;
        foreach (int slot in slots)
            pass.G[slot] = pass.C[slot] = 0;
        if (withConstants)
            Place.Bank.StampConstant(pass, Place.Index, Place.Index + 1);
        foreach (int slot in slots)
            pass.F[rows[slot]] += pass.G[slot] * pass.X[columns[slot]];
        Place.Bank.Stamp(pass, Place.Index, Place.Index + 1);
    }
}
