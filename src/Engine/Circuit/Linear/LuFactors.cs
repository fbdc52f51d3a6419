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
    private readonly T[] right = new T[program.Size];

    /// <summary>The program that these factors follow.</summary>
    public LuProgram Program => program;

    /// <summary>True when the product of the last factoring's pivots is negative: the determinant's sign, but for that of
    /// the program's order.</summary>
    public bool IsNegative { get; private set; }

    /// <summary>Factors a matrix given by slot. False when a pivot is zero or not finite.</summary>
    [MethodImpl(MethodImplOptions.AggressiveOptimization)]
    public bool Factor(ReadOnlySpan<T> values)
    {
        ref T w = ref Load(values);
        return Eliminate(ref w);
    }

    /// <summary>Factors A + scale·B, of which B has entries only in the slots given.</summary>
    [MethodImpl(MethodImplOptions.AggressiveOptimization)]
    public bool Factor(ReadOnlySpan<T> a, T scale, ReadOnlySpan<T> b, ReadOnlySpan<int> slots)
    {
        ref T w = ref Load(a);
        int[] load = program.Load;
        ref T other = ref MemoryMarshal.GetReference(b);
        foreach (int slot in slots)
            Unsafe.Add(ref w, load[slot]) += scale * Unsafe.Add(ref other, slot);
        return Eliminate(ref w);
    }

    // Puts a matrix into the work places.
    [MethodImpl(MethodImplOptions.AggressiveOptimization)]
    private ref T Load(ReadOnlySpan<T> values)
    {
        Array.Clear(work);
        ref T w = ref MemoryMarshal.GetArrayDataReference(work);
        int[] load = program.Load;
        ref T value = ref MemoryMarshal.GetReference(values);
        for (int slot = 1; slot < load.Length; slot++)
            Unsafe.Add(ref w, load[slot]) = Unsafe.Add(ref value, slot);
        return ref w;
    }

    [MethodImpl(MethodImplOptions.AggressiveOptimization)]
    private bool Eliminate(ref T w)
    {
        ref int target = ref MemoryMarshal.GetArrayDataReference(program.Targets);
        ReadOnlySpan<int> pivots = program.PivotPlaces;
        ReadOnlySpan<int> uppers = program.UpperCounts;
        ReadOnlySpan<int> lowers = program.LowerCounts;
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
            int lower = lowers[step];
            for (int i = 0; i < lower; i++)
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
    [MethodImpl(MethodImplOptions.AggressiveOptimization)]
    public void Solve(ReadOnlySpan<T> b, Span<T> x)
    {
        Gather(b, program.PivotRows);
        ref T y = ref MemoryMarshal.GetArrayDataReference(right);
        ref T w = ref MemoryMarshal.GetArrayDataReference(work);
        ref int lower = ref MemoryMarshal.GetArrayDataReference(program.LowerSteps);
        ReadOnlySpan<int> places = program.PivotPlaces;
        ReadOnlySpan<int> uppers = program.UpperCounts;
        ReadOnlySpan<int> lowers = program.LowerCounts;
        for (int step = 0; step < places.Length; step++)
        {
            T value = Unsafe.Add(ref y, step);
            ref T column = ref Unsafe.Add(ref w, places[step] + 1 + uppers[step]);
            int count = lowers[step];
            for (int i = 0; i < count; i++)
                Unsafe.Add(ref y, Unsafe.Add(ref lower, i)) -= Unsafe.Add(ref column, i) * value;
            lower = ref Unsafe.Add(ref lower, count);
        }
        ref int upper = ref Unsafe.Add(ref MemoryMarshal.GetArrayDataReference(program.UpperSteps), program.UpperSteps.Length);
        ref T scale = ref MemoryMarshal.GetArrayDataReference(inverse);
        ref T to = ref MemoryMarshal.GetReference(x[..(places.Length + 1)]);
        ref int order = ref MemoryMarshal.GetArrayDataReference(program.PivotColumns);
        for (int step = places.Length - 1; step >= 0; step--)
        {
            T sum = Unsafe.Add(ref y, step);
            ref T row = ref Unsafe.Add(ref w, places[step] + 1);
            int count = uppers[step];
            upper = ref Unsafe.Subtract(ref upper, count);
            for (int j = 0; j < count; j++)
                sum -= Unsafe.Add(ref row, j) * Unsafe.Add(ref y, Unsafe.Add(ref upper, j));
            T value = sum * Unsafe.Add(ref scale, step);
            Unsafe.Add(ref y, step) = value;
            Unsafe.Add(ref to, Unsafe.Add(ref order, step)) = value;
        }
        to = T.Zero;
    }

    /// <summary>Solves Aᵀ·x = b (no conjugation).</summary>
    [MethodImpl(MethodImplOptions.AggressiveOptimization)]
    public void SolveTransposed(ReadOnlySpan<T> b, Span<T> x)
    {
        Gather(b, program.PivotColumns);
        ref T y = ref MemoryMarshal.GetArrayDataReference(right);
        ref T w = ref MemoryMarshal.GetArrayDataReference(work);
        ref int upper = ref MemoryMarshal.GetArrayDataReference(program.UpperSteps);
        ReadOnlySpan<int> places = program.PivotPlaces;
        ReadOnlySpan<int> uppers = program.UpperCounts;
        ReadOnlySpan<int> lowers = program.LowerCounts;
        for (int step = 0; step < places.Length; step++)
        {
            T value = Unsafe.Add(ref y, step) * inverse[step];
            Unsafe.Add(ref y, step) = value;
            ref T row = ref Unsafe.Add(ref w, places[step] + 1);
            int count = uppers[step];
            for (int j = 0; j < count; j++)
                Unsafe.Add(ref y, Unsafe.Add(ref upper, j)) -= Unsafe.Add(ref row, j) * value;
            upper = ref Unsafe.Add(ref upper, count);
        }
        ref int lower = ref Unsafe.Add(ref MemoryMarshal.GetArrayDataReference(program.LowerSteps), program.LowerSteps.Length);
        for (int step = places.Length - 1; step >= 0; step--)
        {
            T sum = Unsafe.Add(ref y, step);
            ref T column = ref Unsafe.Add(ref w, places[step] + 1 + uppers[step]);
            int count = lowers[step];
            lower = ref Unsafe.Subtract(ref lower, count);
            for (int i = 0; i < count; i++)
                sum -= Unsafe.Add(ref column, i) * Unsafe.Add(ref y, Unsafe.Add(ref lower, i));
            Unsafe.Add(ref y, step) = sum;
        }
        Scatter(x, program.PivotRows);
    }

    // Into the order of the pivots, and back.
    [MethodImpl(MethodImplOptions.AggressiveOptimization)]
    private void Gather(ReadOnlySpan<T> b, int[] order)
    {
        ref T from = ref MemoryMarshal.GetReference(b[..(order.Length + 1)]); // an unknown's index is 1 to their number
        ref T y = ref MemoryMarshal.GetArrayDataReference(right);
        for (int step = 0; step < order.Length; step++)
            Unsafe.Add(ref y, step) = Unsafe.Add(ref from, order[step]);
    }

    [MethodImpl(MethodImplOptions.AggressiveOptimization)]
    private void Scatter(Span<T> x, int[] order)
    {
        for (int step = 0; step < order.Length; step++)
            x[order[step]] = right[step];
        x[0] = T.Zero;
    }
}
