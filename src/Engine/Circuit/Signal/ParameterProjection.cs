using Consort.Engine.Circuit.Motion;

namespace Consort.Engine.Circuit.Signal;

/// <summary>
/// Σ λ·∂f/∂p + μ·∂q/∂p for many parameters over many states. What acts through the constant share of the equations
/// (resistors, capacitors, trimmers) needs only the sums of λ·x by row and column, whatever the number of parameters. For
/// the rest the states are kept, and one part after another is moved once and stamped at all of them.
/// </summary>
internal sealed class ParameterProjection
{
    private readonly record struct Share(int Parameter, int Cell, double G, double C);

    private sealed class State(int length)
    {
        public TapedStep? Step;
        public double[] X = [];
        public double Time;
        public readonly double[] OfF = new double[length];
        public readonly double[] OfQ = new double[length];
    }

    private readonly Circuit circuit;
    private readonly ParameterPlace[] parameters;
    private readonly Pass alone;
    private readonly List<State> states = []; // kept for the next sweep
    private readonly List<Share> shares = [];
    private readonly (int Row, int Column)[] cells;
    private readonly double[] sumsF; // by cell
    private readonly double[] sumsQ;
    private readonly (int Parameter, int[] Rows)[] bent;
    private int count;

    public ParameterProjection(Circuit circuit, ParameterPlace[] parameters)
    {
        (this.circuit, this.parameters) = (circuit, parameters);
        alone = circuit.NewPass();
        ParameterSlope slope = new(circuit);
        Dictionary<(int, int), int> places = [];
        List<(int, int[])> others = [];
        for (int p = 0; p < parameters.Length; p++)
        {
            (List<(int Slot, double G, double C)> slots, bool bends) = slope.ByConstantSlots(parameters[p].Part, parameters[p].Word);
            foreach ((int slot, double g, double c) in slots)
            {
                (int, int) cell = (circuit.Pattern.Rows[slot], circuit.Pattern.Columns[slot]);
                if (!places.TryGetValue(cell, out int at))
                    places[cell] = at = places.Count;
                shares.Add(new(p, at, g, c));
            }
            if (bends)
                others.Add((p, slope.RowsOf(parameters[p].Part)));
        }
        cells = [.. places.OrderBy(pair => pair.Value).Select(pair => pair.Key)];
        (sumsF, sumsQ) = (new double[cells.Length], new double[cells.Length]);
        bent = [.. others];
    }

    /// <summary>Forgets all states.</summary>
    public void Clear()
    {
        count = 0;
        Array.Clear(sumsF);
        Array.Clear(sumsQ);
    }

    /// <summary>Adds a state with the weights of its f and, times a factor, of its q. The state itself is not copied.</summary>
    public void Add(TapedStep step, double[] x, double time, double[] ofF, double[] ofQ, double factor)
    {
        if (count == states.Count)
            states.Add(new(circuit.Length));
        State state = states[count++];
        (state.Step, state.X, state.Time) = (step, x, time);
        ofF.CopyTo(state.OfF, 0);
        Columns.Scale(state.OfQ, ofQ, factor);
        for (int i = 0; i < cells.Length; i++)
        {
            (int row, int column) = cells[i];
            sumsF[i] += state.OfF[row] * x[column];
            sumsQ[i] += state.OfQ[row] * x[column];
        }
    }

    /// <summary>totals −= Σ ofF·∂f/∂p + ofQ·∂q/∂p for every parameter.</summary>
    public void TakeFrom(double[] totals, Tape tape)
    {
        foreach ((int p, int cell, double g, double c) in shares)
            totals[p] -= g * sumsF[cell] + c * sumsQ[cell];
        foreach ((int p, int[] rows) in bent)
        {
            ParameterMove moved = new(circuit, parameters[p].Part, parameters[p].Word);
            double high = Sum(parameters[p].Part, rows, moved, moved.Size, tape);
            double low = Sum(parameters[p].Part, rows, moved, -moved.Size, tape);
            moved.To(0, alone);
            totals[p] -= 0.5 * (high - low) / moved.Size;
        }
    }

    // Σ ofF·f + ofQ·q of a part's varying share, with the part moved.
    private double Sum(PartPlace place, int[] rows, ParameterMove moved, double by, Tape tape)
    {
        moved.To(by, alone);
        alone.Regime = Regime.Motion;
        bool latches = place.Bank is ISwitching;
        TapedStep? latched = null;
        double sum = 0;
        for (int k = 0; k < count; k++)
        {
            State state = states[k];
            if (latches && !ReferenceEquals(latched, state.Step))
                tape.Restore(latched = state.Step!);
            (alone.X, alone.Time) = (state.X, state.Time);
            place.Bank.Stamp(alone, place.Index, place.Index + 1);
            foreach (int row in rows)
            {
                sum += state.OfF[row] * alone.F[row] + state.OfQ[row] * alone.Q[row];
                alone.F[row] = alone.Q[row] = 0;
            }
        }
        return sum;
    }
}
