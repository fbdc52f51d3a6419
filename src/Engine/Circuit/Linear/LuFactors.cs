using System.Numerics;
using System.Runtime.CompilerServices;
using System.Runtime.InteropServices;

namespace Consort.Engine.Circuit.Linear;

/// <summary>One set of factors of a program: real for solving, complex for small signals.</summary>
internal sealed class LuFactors<T>(LuProgram program)
    where T : struct, INumberBase<T>
{
    private readonly T[] work = new T[program.Places];
    private readonly T[] inverse = new T[program.Size];
    private readonly T[] right = new T[program.Size + 1];

    /// <summary>The program that these factors follow.</summary>
    public LuProgram Program => program;

    /// <summary>True when the product of the last factoring's pivots is negative: the determinant's sign, but for that of
    /// the program's order.</summary>
    public bool IsNegative { get; private set; }

    /// <summary>Factors a matrix given by slot. False when a pivot is zero or not finite.</summary>
    public bool Factor(ReadOnlySpan<T> values)
    {
        Array.Clear(work);
        ref T w = ref MemoryMarshal.GetArrayDataReference(work);
        int[] load = program.Load;
        for (int slot = 1; slot < load.Length; slot++)
            Unsafe.Add(ref w, load[slot]) = values[slot];
        return Eliminate(ref w);
    }

    private bool Eliminate(ref T w)
    {
        ref int target = ref MemoryMarshal.GetArrayDataReference(program.Targets);
        int[] pivots = program.PivotPlaces;
        int[] uppers = program.UpperCounts;
        int[] lowers = program.LowerCounts;
        bool negative = false;
        for (int step = 0; step < pivots.Length; step++)
        {
            ref T pivot = ref Unsafe.Add(ref w, pivots[step]);
            if (T.IsZero(pivot) || !T.IsFinite(pivot))
                return false;
            negative ^= T.IsNegative(pivot);
            T scale = T.One / pivot;
            inverse[step] = scale;
            int upper = uppers[step];
            ref T row = ref Unsafe.Add(ref pivot, 1);
            ref T column = ref Unsafe.Add(ref row, upper);
            for (int i = 0; i < lowers[step]; i++)
            {
                T factor = Unsafe.Add(ref column, i) * scale;
                Unsafe.Add(ref column, i) = factor;
                for (int j = 0; j < upper; j++)
                    Unsafe.Add(ref w, Unsafe.Add(ref target, j)) -= factor * Unsafe.Add(ref row, j);
                target = ref Unsafe.Add(ref target, upper);
            }
        }
        IsNegative = negative;
        return true;
    }

    /// <summary>Solves A·x = b; index 0 of both is ground and stays zero.</summary>
    public void Solve(ReadOnlySpan<T> b, Span<T> x)
    {
        b.CopyTo(right);
        int[] rows = program.PivotRows;
        int[] columns = program.PivotColumns;
        int lower = 0;
        for (int step = 0; step < rows.Length; step++)
        {
            T y = right[rows[step]];
            int first = program.PivotPlaces[step] + 1 + program.UpperCounts[step];
            for (int i = 0; i < program.LowerCounts[step]; i++)
                right[program.LowerRows[lower++]] -= work[first + i] * y;
        }
        int upper = program.UpperColumns.Length;
        for (int step = rows.Length - 1; step >= 0; step--)
        {
            T sum = right[rows[step]];
            int first = program.PivotPlaces[step] + 1;
            int count = program.UpperCounts[step];
            upper -= count;
            for (int j = 0; j < count; j++)
                sum -= work[first + j] * x[program.UpperColumns[upper + j]];
            x[columns[step]] = sum * inverse[step];
        }
        x[0] = T.Zero;
    }

    /// <summary>Solves Aᵀ·x = b (no conjugation).</summary>
    public void SolveTransposed(ReadOnlySpan<T> b, Span<T> x)
    {
        b.CopyTo(right);
        int[] rows = program.PivotRows;
        int[] columns = program.PivotColumns;
        int upper = 0;
        for (int step = 0; step < rows.Length; step++)
        {
            T y = right[columns[step]] * inverse[step];
            right[columns[step]] = y;
            int first = program.PivotPlaces[step] + 1;
            for (int j = 0; j < program.UpperCounts[step]; j++)
                right[program.UpperColumns[upper++]] -= work[first + j] * y;
        }
        int lower = program.LowerRows.Length;
        for (int step = rows.Length - 1; step >= 0; step--)
        {
            T sum = right[columns[step]];
            int count = program.LowerCounts[step];
            int first = program.PivotPlaces[step] + 1 + program.UpperCounts[step];
            lower -= count;
            for (int i = 0; i < count; i++)
                sum -= work[first + i] * x[program.LowerRows[lower + i]];
            x[rows[step]] = sum;
        }
        x[0] = T.Zero;
    }
}
