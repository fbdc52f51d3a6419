using System.Runtime.InteropServices;
using Consort.Engine.Design;

namespace Consort.Engine.Circuit.Signal;

/// <summary>Which rows of f and q and which slots of G and C one part touches.</summary>
internal sealed record Footprint(int[] Rows, int[] Slots);

/// <summary>Finds the footprints of a circuit's parts: the rows of their nets, and whatever they touch when they are stamped alone
/// at a few wild states.</summary>
internal sealed class Footprints
{
    // Wild states drive outputs to their limits; tame ones let junctions conduct that the wild ones all happen to block.
    private static readonly double[] Reaches = [20, 20, 20, 1, 0.1];

    private readonly Circuit circuit;
    private readonly Pass pass;
    private readonly double[][] wild;
    private readonly Dictionary<PartPlace, Footprint> found = [];

    public Footprints(Circuit circuit)
    {
        this.circuit = circuit;
        pass = circuit.NewPass();
        Random random = new(20260102);
        wild = [.. Reaches.Select(reach => Wild(circuit.Length, reach, random))];
    }

    private static double[] Wild(int length, double reach, Random random)
    {
        double[] x = new double[length];
        for (int i = 1; i < length; i++)
            x[i] = reach * (random.NextDouble() - 0.5);
        return x;
    }

    /// <summary>The footprint of a part.</summary>
    public Footprint Of(PartPlace place)
    {
        if (found.TryGetValue(place, out Footprint? known))
            return known;
        // Its nets in any case: a supply may stand the wrong way round in every wild state, and then nothing flows there.
        HashSet<int> rows = [.. place.Bank.Parts[place.Index].Terminals.Where(joint => joint.Net != CircuitDesign.Ground).Select(joint => circuit.Net(joint.Net))];
        HashSet<int> slots = [];
        pass.Temperature = circuit.Temperature;
        foreach (Regime regime in (Regime[])[Regime.Motion, Regime.Rest])
            foreach (double[] x in wild)
            {
                (pass.Regime, pass.X) = (regime, x);
                place.Bank.StampConstant(pass, place.Index, place.Index + 1);
                place.Bank.Stamp(pass, place.Index, place.Index + 1);
                Gather(rows, slots);
            }
        return found[place] = new([.. rows.Order()], [.. slots.Order()]);
    }

    // What was touched is cleared again for the next part.
    private void Gather(HashSet<int> rows, HashSet<int> slots)
    {
        Take(pass.F, rows);
        Take(pass.Q, rows);
        HashSet<int> touched = [];
        Take(pass.G, touched);
        Take(pass.C, touched);
        foreach (int slot in touched)
        {
            slots.Add(slot);
            rows.Add(circuit.Pattern.Rows[slot]);
        }
    }

    private static void Take(double[] values, HashSet<int> into)
    {
        values[0] = 0; // ground's, thrown away
        Span<long> bits = MemoryMarshal.Cast<double, long>(values.AsSpan());
        int at = 0;
        while (bits[at..].IndexOfAnyExcept(0L) is var next and >= 0)
        {
            at += next;
            if (values[at] != 0)
                into.Add(at);
            bits[at] = 0;
        }
    }
}
