using System.Runtime.CompilerServices;
using System.Runtime.InteropServices;
using Consort.Engine.Circuit.Linear;

namespace Consort.Engine.Circuit;

/// <summary>The part of G and C that never changes while a circuit runs, stamped once for a regime and temperature.</summary>
internal sealed class ConstantShare(SparsePattern pattern)
{
    private readonly double[] constantG = new double[pattern.Slots];
    private readonly double[] constantC = new double[pattern.Slots];
    private SparseShare conductances = SparseShare.Empty;
    private SparseShare capacitances = SparseShare.Empty;

    /// <summary>True until the next <see cref="Restamp"/>.</summary>
    public bool IsStale { get; set; } = true;

    /// <summary>Stamps all banks' constants anew.</summary>
    public void Restamp(PartBank[] banks, Pass pass, Regime regime)
    {
        pass.Regime = regime;
        Array.Clear(pass.G);
        Array.Clear(pass.C);
        foreach (PartBank bank in banks)
            bank.StampConstant(pass, 0, bank.Count);
        pass.G.CopyTo(constantG, 0);
        pass.C.CopyTo(constantC, 0);
        conductances = SparseShare.Of(pattern, constantG);
        capacitances = SparseShare.Of(pattern, constantC);
        IsStale = false;
    }

    /// <summary>Starts an evaluation: G and C hold the constants, F = G·x, Q = C·x.</summary>
    public void Begin(Pass pass)
    {
        Array.Copy(constantG, pass.G, constantG.Length);
        Array.Copy(constantC, pass.C, constantC.Length);
        BeginFlows(pass);
    }

    /// <summary>The same without the matrices: F = G·x, Q = C·x.</summary>
    public void BeginFlows(Pass pass)
    {
        Array.Clear(pass.F);
        Array.Clear(pass.Q);
        conductances.Multiply(pass.X, pass.F);
        capacitances.Multiply(pass.X, pass.Q);
    }
}

/// <summary>The non-zero entries of a matrix, ready to be multiplied: rows that hold equally many stand together, so that the
/// inner loop's length is the same time after time, which the processor foretells.</summary>
internal sealed class SparseShare
{
    private readonly (int Rows, int Entries)[] groups;
    private readonly int[] rows;
    private readonly int[] columns;
    private readonly double[] values;

    private SparseShare((int, int)[] groups, int[] rows, int[] columns, double[] values) =>
        (this.groups, this.rows, this.columns, this.values) = (groups, rows, columns, values);

    public static SparseShare Empty { get; } = new([], [], [], []);

    public static SparseShare Of(SparsePattern pattern, double[] values)
    {
        var byRow = Enumerable.Range(1, pattern.Slots - 1)
            .Where(slot => values[slot] != 0)
            .GroupBy(slot => pattern.Rows[slot])
            .Select(row => (Row: row.Key, Slots: row.OrderBy(slot => pattern.Columns[slot]).ToArray()))
            .OrderBy(row => row.Slots.Length)
            .ThenBy(row => row.Row)
            .ToArray();
        return new(
            [.. byRow.GroupBy(row => row.Slots.Length).Select(group => (group.Count(), group.Key))],
            [.. byRow.Select(row => row.Row)],
            [.. byRow.SelectMany(row => row.Slots).Select(slot => pattern.Columns[slot])],
            [.. byRow.SelectMany(row => row.Slots).Select(slot => values[slot])]
        );
    }

    /// <summary>y += A·x.</summary>
    [MethodImpl(MethodImplOptions.AggressiveOptimization)]
    public void Multiply(double[] x, double[] y)
    {
        ref int row = ref MemoryMarshal.GetArrayDataReference(rows);
        ref int column = ref MemoryMarshal.GetArrayDataReference(columns);
        ref double value = ref MemoryMarshal.GetArrayDataReference(values);
        ref double from = ref MemoryMarshal.GetArrayDataReference(x);
        ref double to = ref MemoryMarshal.GetArrayDataReference(y);
        foreach ((int count, int entries) in groups)
            for (int i = 0; i < count; i++)
            {
                double sum = 0;
                for (int k = 0; k < entries; k++)
                    sum += Unsafe.Add(ref value, k) * Unsafe.Add(ref from, Unsafe.Add(ref column, k));
                Unsafe.Add(ref to, row) += sum;
                row = ref Unsafe.Add(ref row, 1);
                column = ref Unsafe.Add(ref column, entries);
                value = ref Unsafe.Add(ref value, entries);
            }
    }

    /// <summary>y += A·x for a matrix given by slot.</summary>
    [MethodImpl(MethodImplOptions.AggressiveOptimization)]
    public static void Multiply(SparsePattern pattern, double[] values, double[] x, double[] y)
    {
        for (int slot = 1; slot < values.Length; slot++)
            if (values[slot] != 0)
                y[pattern.Rows[slot]] += values[slot] * x[pattern.Columns[slot]];
    }
}
