namespace Consort.Engine.Circuit.Signal;

/// <summary>Which rows and slots one part touches, found by stamping it alone at a few states.</summary>
internal sealed class Footprint
{
    private Footprint(int[] rows, int[] slots) => (Rows, Slots) = (rows, slots);

    /// <summary>Rows of f and q.</summary>
    public int[] Rows { get; }

    /// <summary>Slots of G and C.</summary>
    public int[] Slots { get; }

    public static Footprint Of(Circuit circuit, PartPlace place)
    {
        HashSet<int> rows = [];
        HashSet<int> slots = [];
        Random random = new(20260102);
        // Wild states drive outputs to their limits; tame ones let junctions conduct that the wild ones all happen to block.
        foreach (Regime regime in (Regime[])[Regime.Motion, Regime.Rest])
            foreach (double reach in (double[])[20, 20, 20, 1, 0.1])
            {
                Pass pass = circuit.NewPass();
                (pass.Regime, pass.Temperature) = (regime, circuit.Temperature);
                for (int i = 1; i < pass.X.Length; i++)
                    pass.X[i] = reach * (random.NextDouble() - 0.5);
                place.Bank.StampConstant(pass, place.Index, place.Index + 1);
                place.Bank.Stamp(pass, place.Index, place.Index + 1);
                Gather(circuit, pass, rows, slots);
            }
        return new([.. rows.Order()], [.. slots.Order()]);
    }

    private static void Gather(Circuit circuit, Pass pass, HashSet<int> rows, HashSet<int> slots)
    {
        for (int i = 1; i < pass.F.Length; i++)
            if (pass.F[i] != 0 || pass.Q[i] != 0)
                rows.Add(i);
        for (int slot = 1; slot < pass.G.Length; slot++)
        {
            if (pass.G[slot] == 0 && pass.C[slot] == 0)
                continue;
            slots.Add(slot);
            rows.Add(circuit.Pattern.Rows[slot]);
        }
    }
}
