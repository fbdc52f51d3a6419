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
        Array.Clear(pass.F);
        Array.Clear(pass.Q);
        conductances.Multiply(pass.X, pass.F);
        capacitances.Multiply(pass.X, pass.Q);
    }
}

/// <summary>The non-zero entries of a matrix, ready to be multiplied.</summary>
internal sealed record SparseShare(int[] Rows, int[] Columns, double[] Values)
{
    public static SparseShare Empty { get; } = new([], [], []);

    public static SparseShare Of(SparsePattern pattern, double[] values)
    {
        int[] slots = [.. Enumerable.Range(1, pattern.Slots - 1).Where(slot => values[slot] != 0)];
        // By rows, so that a row's sum stays in a register; the order is fixed, so the bits are too.
        Array.Sort([.. slots.Select(slot => (pattern.Rows[slot], pattern.Columns[slot]))], slots);
        return new(
            [.. slots.Select(slot => pattern.Rows[slot])],
            [.. slots.Select(slot => pattern.Columns[slot])],
            [.. slots.Select(slot => values[slot])]
        );
    }

    /// <summary>y += A·x.</summary>
    [MethodImpl(MethodImplOptions.AggressiveOptimization)]
    public void Multiply(double[] x, double[] y)
    {
        ref int row = ref MemoryMarshal.GetArrayDataReference(Rows);
        ref int column = ref MemoryMarshal.GetArrayDataReference(Columns);
        ref double value = ref MemoryMarshal.GetArrayDataReference(Values);
        ref double from = ref MemoryMarshal.GetArrayDataReference(x);
        ref double to = ref MemoryMarshal.GetArrayDataReference(y);
        int i = 0;
        while (i < Values.Length)
        {
            int at = Unsafe.Add(ref row, i);
            double sum = 0;
            for (; i < Values.Length && Unsafe.Add(ref row, i) == at; i++)
                sum += Unsafe.Add(ref value, i) * Unsafe.Add(ref from, Unsafe.Add(ref column, i));
            Unsafe.Add(ref to, at) += sum;
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
