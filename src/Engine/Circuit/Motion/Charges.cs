using System.Runtime.CompilerServices;

namespace Consort.Engine.Circuit.Motion;

/// <summary>The slots that hold a charge's derivative: found by stamping at a few wild states, since a bank stamps the same
/// slots everywhere.</summary>
internal sealed class Charges
{
    private readonly int[] slots;
    private readonly int[] rows;
    private readonly int[] columns;

    public Charges(Circuit circuit)
    {
        slots = Find(circuit);
        rows = [.. slots.Select(slot => circuit.Pattern.Rows[slot])];
        columns = [.. slots.Select(slot => circuit.Pattern.Columns[slot])];
    }

    /// <summary>The slots, rising.</summary>
    public int[] Slots => slots;

    /// <summary>The unknowns that some charge hangs on.</summary>
    public IEnumerable<int> Unknowns => columns.Distinct();

    /// <summary>to += factor·C·x for C by slot.</summary>
    [MethodImpl(MethodImplOptions.AggressiveOptimization)]
    public void AddProduct(double[] c, double[] x, double factor, double[] to)
    {
        ReadOnlySpan<int> at = slots;
        ReadOnlySpan<int> row = rows.AsSpan(0, at.Length);
        ReadOnlySpan<int> column = columns.AsSpan(0, at.Length);
        for (int i = 0; i < at.Length; i++)
            to[row[i]] += factor * c[at[i]] * x[column[i]];
    }

    /// <summary>to += rate·C by slot.</summary>
    public void AddScaled(double[] c, double rate, double[] to)
    {
        foreach (int slot in slots)
            to[slot] += rate * c[slot];
    }

    private static int[] Find(Circuit circuit)
    {
        HashSet<int> found = [];
        Random random = new(20260101);
        for (int trial = 0; trial < 3; trial++)
        {
            for (int i = 1; i < circuit.Length; i++)
                circuit.Pass.X[i] = trial == 0 ? 0 : 10 * (random.NextDouble() - 0.5);
            circuit.Evaluate(0, Regime.Motion);
            for (int slot = 1; slot < circuit.Pattern.Slots; slot++)
                if (circuit.Pass.C[slot] != 0)
                    found.Add(slot);
        }
        return [.. found.Order()];
    }
}
