namespace Consort.Engine.Circuit.Signal;

/// <summary>
/// ∂f/∂p and ∂q/∂p of one parameter of one part at a state: a central difference of that part's own stamp, so that
/// every kind has it without further code. Its relative error is near 1e-9 (rounding
/// 1e-16/1e-6). A wider move of a regulator's voltage, over its few milliohms, would swing its current through zero.
/// </summary>
internal sealed class ParameterSlope
{
    /// <summary>Share of its value by which a parameter is moved either way. Less, where an output stands stiff near the bend
    /// between giving and taking.</summary>
    public double RelativeMove { get; init; } = 1e-6;

    private readonly Circuit circuit;
    private readonly Pass alone;
    private readonly Dictionary<PartPlace, Footprint> footprints = [];
    private readonly double[] lowF;
    private readonly double[] lowQ;

    public ParameterSlope(Circuit circuit)
    {
        this.circuit = circuit;
        alone = circuit.NewPass();
        (lowF, lowQ) = (new double[circuit.Length], new double[circuit.Length]);
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
        if (!footprints.TryGetValue(place, out Footprint? footprint))
            footprints[place] = footprint = Footprint.Of(circuit, place);
        Rows = footprint.Rows;
        double[] numbers = place.Bank.Numbers(word);
        double value = numbers[place.Index];
        double move = Math.Abs(value) > 1e-30 ? RelativeMove * Math.Abs(value) : Math.Min(1e-6, RelativeMove);
        alone.X = x;
        (alone.Time, alone.Regime, alone.Temperature) = (time, regime, circuit.Temperature);
        numbers[place.Index] = value - move;
        Stamp(place, footprint);
        foreach (int row in Rows)
            (lowF[row], lowQ[row]) = (alone.F[row], alone.Q[row]);
        numbers[place.Index] = value + move;
        Stamp(place, footprint);
        double scale = 0.5 / move;
        foreach (int row in Rows)
        {
            lowF[row] = scale * (alone.F[row] - lowF[row]);
            lowQ[row] = scale * (alone.Q[row] - lowQ[row]);
        }
        numbers[place.Index] = value;
        place.Bank.Prepare(circuit.Temperature, place.Index, place.Index + 1);
    }

    /// <summary>∂G/∂p and ∂C/∂p by slot of a parameter that acts through the part's constant share alone, in motion; null
    /// for one that bends. Ground's slots are left out.</summary>
    public List<(int Slot, double G, double C)>? ByConstantSlots(PartPlace place, string word)
    {
        if (!footprints.TryGetValue(place, out Footprint? footprint))
            footprints[place] = footprint = Footprint.Of(circuit, place);
        double[] numbers = place.Bank.Numbers(word);
        double value = numbers[place.Index];
        double move = Math.Abs(value) > 1e-30 ? RelativeMove * Math.Abs(value) : Math.Min(1e-6, RelativeMove);
        double[] wild = Wild();
        Pass low = StampParts(place, wild, value - move, numbers);
        Pass high = StampParts(place, wild, value + move, numbers);
        numbers[place.Index] = value;
        place.Bank.Prepare(circuit.Temperature, place.Index, place.Index + 1);
        if (!low.F.AsSpan().SequenceEqual(high.F) || !low.Q.AsSpan().SequenceEqual(high.Q))
            return null;
        double scale = 0.5 / move;
        List<(int Slot, double G, double C)> found =
        [
            .. footprint
                .Slots.Select(slot => (slot, scale * (high.G[slot] - low.G[slot]), scale * (high.C[slot] - low.C[slot])))
                .Where(entry => entry.Item2 != 0 || entry.Item3 != 0),
        ];
        return found.Count > 0 ? found : null; // what shows nowhere here may show on a ramp or at a limit
    }

    // F and Q of the varying share, G and C of the constant one.
    private Pass StampParts(PartPlace place, double[] x, double value, double[] numbers)
    {
        numbers[place.Index] = value;
        place.Bank.Prepare(circuit.Temperature, place.Index, place.Index + 1);
        Pass pass = circuit.NewPass();
        (pass.X, pass.Regime, pass.Temperature) = (x, Regime.Motion, circuit.Temperature);
        place.Bank.Stamp(pass, place.Index, place.Index + 1);
        Array.Clear(pass.G);
        Array.Clear(pass.C);
        place.Bank.StampConstant(pass, place.Index, place.Index + 1);
        return pass;
    }

    private double[] Wild()
    {
        Random random = new(20260104);
        double[] x = new double[circuit.Length];
        for (int i = 1; i < x.Length; i++)
            x[i] = 20 * (random.NextDouble() - 0.5);
        return x;
    }

    /// <summary>Works out ∂f/∂t of a part at a state into <see cref="DF"/>, over a short move in time, s.</summary>
    public void AtTime(PartPlace place, double[] x, double time, double move)
    {
        if (!footprints.TryGetValue(place, out Footprint? footprint))
            footprints[place] = footprint = Footprint.Of(circuit, place);
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
        bank.Prepare(circuit.Temperature, place.Index, end);
        foreach (int slot in footprint.Slots)
            alone.G[slot] = alone.C[slot] = 0;
        foreach (int row in footprint.Rows)
            alone.F[row] = alone.Q[row] = 0;
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
