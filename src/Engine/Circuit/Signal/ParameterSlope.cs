namespace Consort.Engine.Circuit.Signal;

/// <summary>
/// ∂f/∂p and ∂q/∂p of one parameter of one part at a state: a central difference of that part's own stamp, so that
/// every kind has it without further code. Its relative error is near 1e-9.
/// </summary>
internal sealed class ParameterSlope
{
    /// <summary>Share of its value by which a parameter is moved either way. Less, where an output stands stiff near the bend
    /// between giving and taking.</summary>
    public double RelativeMove { get; init; } = ParameterMove.Usual;

    private readonly Circuit circuit;
    private readonly Pass alone;
    private readonly double[] lowF;
    private readonly double[] lowQ;
    private readonly double[] wild;

    public ParameterSlope(Circuit circuit)
    {
        this.circuit = circuit;
        alone = circuit.NewPass();
        (lowF, lowQ) = (new double[circuit.Length], new double[circuit.Length]);
        wild = Wild(circuit.Length);
    }

    /// <summary>Rows that the last call touched.</summary>
    public int[] Rows { get; private set; } = [];

    /// <summary>∂f/∂p of the last call, by unknown; only <see cref="Rows"/> hold it.</summary>
    public double[] DF => lowF;

    /// <summary>∂q/∂p of the last call, by unknown; only <see cref="Rows"/> hold it.</summary>
    public double[] DQ => lowQ;

    /// <summary>Works out both at a state. The parameter is put back.</summary>
    public void At(PartPlace place, string word, double[] x, double time, Regime regime)
    {
        Footprint footprint = circuit.Footprints.Of(place);
        Rows = footprint.Rows;
        ParameterMove moved = new(circuit, place, word, RelativeMove);
        double move = moved.Size;
        alone.X = x;
        (alone.Time, alone.Regime) = (time, regime);
        moved.To(-move, alone);
        Stamp(place, footprint);
        foreach (int row in Rows)
            (lowF[row], lowQ[row]) = (alone.F[row], alone.Q[row]);
        moved.To(move, alone);
        Stamp(place, footprint);
        double scale = 0.5 / move;
        foreach (int row in Rows)
        {
            lowF[row] = scale * (alone.F[row] - lowF[row]);
            lowQ[row] = scale * (alone.Q[row] - lowQ[row]);
        }
        moved.To(0, alone);
    }

    /// <summary>∂G/∂p and ∂C/∂p by slot of a parameter, as far as it acts through the part's constant share in motion, and
    /// whether it may act through the rest of the part's stamp as well.</summary>
    public (List<(int Slot, double G, double C)> Slots, bool Bends) ByConstantSlots(PartPlace place, string word)
    {
        Footprint footprint = circuit.Footprints.Of(place);
        ParameterMove moved = new(circuit, place, word, RelativeMove);
        (double[] flow, double[] g, double[] c) = StampShares(place, footprint, moved, -moved.Size);
        (double[] highFlow, double[] highG, double[] highC) = StampShares(place, footprint, moved, moved.Size);
        moved.To(0, alone);
        double scale = 0.5 / moved.Size;
        List<(int Slot, double G, double C)> found =
        [
            .. footprint
                .Slots.Select((slot, i) => (slot, scale * (highG[i] - g[i]), scale * (highC[i] - c[i])))
                .Where(entry => entry.Item2 != 0 || entry.Item3 != 0),
        ];
        // What shows nowhere here may show on a ramp or at a limit.
        return (found, found.Count == 0 || !flow.AsSpan().SequenceEqual(highFlow));
    }

    /// <summary>The rows of f and q that a part touches.</summary>
    public int[] RowsOf(PartPlace place) => circuit.Footprints.Of(place).Rows;

    // f and q of the varying share by the footprint's rows, G and C of the constant one by its slots.
    private (double[] Flow, double[] G, double[] C) StampShares(PartPlace place, Footprint footprint, ParameterMove moved, double by)
    {
        (alone.X, alone.Time, alone.Regime) = (wild, 0, Regime.Motion);
        moved.To(by, alone);
        Clear(footprint);
        place.Bank.Stamp(alone, place.Index, place.Index + 1);
        double[] flow = [.. footprint.Rows.SelectMany(row => (double[])[alone.F[row], alone.Q[row]])];
        Clear(footprint);
        place.Bank.StampConstant(alone, place.Index, place.Index + 1);
        return (flow, [.. footprint.Slots.Select(slot => alone.G[slot])], [.. footprint.Slots.Select(slot => alone.C[slot])]);
    }

    private void Clear(Footprint footprint)
    {
        foreach (int slot in footprint.Slots)
            alone.G[slot] = alone.C[slot] = 0;
        foreach (int row in footprint.Rows)
            alone.F[row] = alone.Q[row] = 0;
    }

    private static double[] Wild(int length)
    {
        Random random = new(20260104);
        double[] x = new double[length];
        for (int i = 1; i < x.Length; i++)
            x[i] = 20 * (random.NextDouble() - 0.5);
        return x;
    }

    /// <summary>Works out ∂f/∂t of a part at a state into <see cref="DF"/>, over a short move in time, s.</summary>
    public void AtTime(PartPlace place, double[] x, double time, double move)
    {
        Footprint footprint = circuit.Footprints.Of(place);
        Rows = footprint.Rows;
        alone.X = x;
        (alone.Regime, alone.Temperature) = (Regime.Motion, circuit.Temperature);
        alone.Time = time - move;
        Stamp(place, footprint);
        foreach (int row in Rows)
            lowF[row] = alone.F[row];
        alone.Time = time + move;
        Stamp(place, footprint);
        foreach (int row in Rows)
            (lowF[row], lowQ[row]) = (0.5 / move * (alone.F[row] - lowF[row]), 0);
    }

    /// <summary>left·∂f/∂p + right·∂q/∂p of the last call.</summary>
    public double Project(double[] left, double[] right, double factor)
    {
        double sum = 0;
        foreach (int row in Rows)
            sum += left[row] * lowF[row] + factor * right[row] * lowQ[row];
        return sum;
    }

    private void Stamp(PartPlace place, Footprint footprint)
    {
        PartBank bank = place.Bank;
        int end = place.Index + 1;
        Clear(footprint);
        bank.StampConstant(alone, place.Index, end);
        int[] rows = circuit.Pattern.Rows;
        int[] columns = circuit.Pattern.Columns;
        foreach (int slot in footprint.Slots)
        {
            alone.F[rows[slot]] += alone.G[slot] * alone.X[columns[slot]];
            alone.Q[rows[slot]] += alone.C[slot] * alone.X[columns[slot]];
            alone.G[slot] = alone.C[slot] = 0;
        }
        bank.Stamp(alone, place.Index, end);
    }
}
