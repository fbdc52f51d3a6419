using System.Runtime.CompilerServices;
using System.Runtime.InteropServices;
using Consort.Engine.Pitch.Builds.Lanes;

namespace Consort.Engine.Pitch.Builds.PitchPath;

/// <summary>
/// A sparse elimination that stops early: rows and columns that are barred are never pivots, and what is left is a smaller
/// system that they, and whatever found no pivot, still stand in. Chosen once by Markowitz's count with threshold pivoting
/// (Duff, Erisman, Reid, Direct Methods for Sparse Matrices, 2nd ed. 2017, ch. 7) and replayed as a flat list of places.
/// </summary>
internal sealed class PartialElimination
{
    private const double Threshold = 0.01;
    private const double Nothing = 1e-280;
    private const double Idle = 1e-14; // weight of rows that do not matter, beside those that do

    private readonly List<(int Row, int Column)> pivots = [];
    private readonly List<int[]> uppers = [];
    private readonly List<int[]> lowers = [];
    private readonly Dictionary<int, double>[] rows;
    private readonly HashSet<int>[] columns;
    private readonly bool[] openRow;
    private readonly bool[] openColumn;
    private readonly (int Row, double Size)?[] candidates; // by column, until one of its rows changes

    private readonly int[] load;
    private int[] pivotPlaces = [];
    private int[] pivotRows = [];
    private int[] upperCounts = [];
    private int[] lowerCounts = [];
    private int[] lowerRows = [];
    private int[] targets = [];
    private readonly int[] lastUppers;

    /// <summary>Chooses the order.</summary>
    /// <param name="size">Rows, and columns, from 0.</param>
    /// <param name="entries">Places of the matrix and typical values.</param>
    /// <param name="weights">What a unit of each row's residual does to the answer: a row that matters little is no good pivot for
    /// an unknown that matters elsewhere.</param>
    /// <param name="barredRow">Rows that are to stay.</param>
    /// <param name="barredColumn">Columns that are to stay.</param>
    /// <param name="last">A barred place that is to be the last pivot, so that its unknown follows from what is left; null for
    /// none.</param>
    public PartialElimination(
        int size,
        IReadOnlyList<(int Row, int Column, double Value)> entries,
        double[] weights,
        bool[] barredRow,
        bool[] barredColumn,
        (int Row, int Column)? last = null
    )
    {
        rows = [.. Enumerable.Range(0, size).Select(_ => new Dictionary<int, double>())];
        columns = [.. Enumerable.Range(0, size).Select(_ => new HashSet<int>())];
        openRow = [.. barredRow.Select(barred => !barred)];
        openColumn = [.. barredColumn.Select(barred => !barred)];
        candidates = new (int, double)?[size];
        foreach ((int row, int column, double value) in entries)
        {
            rows[row][column] = rows[row].GetValueOrDefault(column) + value;
            columns[column].Add(row);
        }
        WeighRows(weights);
        while (Best() is { Row: >= 0 } best)
            Eliminate(best.Row, best.Column);
        if (last is { } final)
            Eliminate(final.Row, final.Column);
        Rows = Left(size, pivots.Select(pivot => pivot.Row));
        Columns = Left(size, pivots.Select(pivot => pivot.Column));
        Dictionary<(int, int), int> places = WriteDown();
        lastUppers = pivots.Count == 0 ? [] : [.. uppers[^1].Select(column => Array.IndexOf(Columns, column))];
        load = [.. entries.Select(entry => places[(entry.Row, entry.Column)])];
        Remaining = [.. Rows.Select(row => Columns.Select(column => places.GetValueOrDefault((row, column))).ToArray())];
    }

    /// <summary>The unknown of the last pivot's column, from the unknowns left.</summary>
    public T Last<T>(ReadOnlySpan<T> work, ReadOnlySpan<T> right, ReadOnlySpan<T> left)
        where T : struct, ILanes<T>
    {
        int pivot = pivotPlaces[^1];
        T sum = right[pivots[^1].Row];
        for (int j = 0; j < lastUppers.Length; j++)
            sum = T.Fma(work[pivot + 1 + j], left[lastUppers[j]], sum);
        return -sum / work[pivot];
    }

    /// <summary>Rows, and columns, of the whole.</summary>
    public int Size => rows.Length;

    /// <summary>Rows that are left, in order.</summary>
    public int[] Rows { get; }

    /// <summary>Columns that are left, in order; as many as rows.</summary>
    public int[] Columns { get; }

    /// <summary>Places of the matrix that is left; 0 where it is zero.</summary>
    public int[][] Remaining { get; }

    /// <summary>Work places, with place 0, which stays zero.</summary>
    public int Places { get; private set; }

    /// <summary>Pivots.</summary>
    public int Steps => pivotPlaces.Length;

    /// <summary>The work place of each entry.</summary>
    public ReadOnlySpan<int> Load => load;

    /// <summary>Eliminates in place: loaded entries become factors, and what is left over.</summary>
    public void Eliminate<T>(T[] work)
        where T : struct, ILanes<T>
    {
        ref T first = ref MemoryMarshal.GetArrayDataReference(work);
        ref int target = ref MemoryMarshal.GetArrayDataReference(targets);
        for (int step = 0; step < pivotPlaces.Length; step++)
        {
            int upper = upperCounts[step];
            ref T pivot = ref Unsafe.Add(ref first, pivotPlaces[step]);
            ref T row = ref Unsafe.Add(ref pivot, 1);
            ref T column = ref Unsafe.Add(ref row, upper);
            T scale = T.Of(1) / pivot;
            for (int i = 0; i < lowerCounts[step]; i++)
            {
                T factor = Unsafe.Add(ref column, i) * scale;
                Unsafe.Add(ref column, i) = factor;
                for (int j = 0; j < upper; j++)
                {
                    ref T place = ref Unsafe.Add(ref first, Unsafe.Add(ref target, j));
                    place = T.FmaMinus(factor, Unsafe.Add(ref row, j), place);
                }
                target = ref Unsafe.Add(ref target, upper);
            }
        }
    }

    /// <summary>Does to a right-hand side, by row, what the elimination did to the rows.</summary>
    public void Forward<T>(T[] work, T[] right)
        where T : struct, ILanes<T>
    {
        ref T first = ref MemoryMarshal.GetArrayDataReference(work);
        ref T rights = ref MemoryMarshal.GetArrayDataReference(right);
        ref int lower = ref MemoryMarshal.GetArrayDataReference(lowerRows);
        for (int step = 0; step < pivotPlaces.Length; step++)
        {
            T own = Unsafe.Add(ref rights, pivotRows[step]);
            ref T column = ref Unsafe.Add(ref first, pivotPlaces[step] + 1 + upperCounts[step]);
            int count = lowerCounts[step];
            for (int i = 0; i < count; i++)
            {
                ref T row = ref Unsafe.Add(ref rights, Unsafe.Add(ref lower, i));
                row = T.FmaMinus(Unsafe.Add(ref column, i), own, row);
            }
            lower = ref Unsafe.Add(ref lower, count);
        }
    }

    private void WeighRows(double[] weights)
    {
        double[] largest = [.. rows.Select(row => row.Count == 0 ? 0 : row.Values.Max(Math.Abs))];
        double most = largest.Zip(weights, (entry, weight) => entry * Math.Abs(weight)).Max();
        for (int i = 0; i < rows.Length; i++)
            foreach (int column in rows[i].Keys)
                rows[i][column] *= Math.Abs(weights[i]) + (largest[i] > 0 ? Idle * most / largest[i] : 0);
    }

    private (int Row, int Column) Best()
    {
        (int Row, int Column) best = (-1, -1);
        long fewest = long.MaxValue;
        double bestSize = 0;
        for (int column = 0; column < columns.Length && fewest > 0; column++)
        {
            if (!openColumn[column] || columns[column].Count == 0 || columns[column].Count - 1 > fewest)
                continue;
            (int row, double size) = candidates[column] ??= Candidate(column);
            if (row < 0)
                continue;
            long count = (long)(rows[row].Count - 1) * (columns[column].Count - 1);
            if (count < fewest || (count == fewest && (size, -row, -column).CompareTo((bestSize, -best.Row, -best.Column)) > 0))
                (best, fewest, bestSize) = ((row, column), count, size);
        }
        return best;
    }

    // The best pivot of a column, and its size beside the column's largest entry: the shortest row, of equals the largest. Row −1
    // when there is none.
    private (int Row, double Size) Candidate(int column)
    {
        double largest = 0;
        foreach (int row in columns[column])
            largest = Math.Max(largest, Math.Abs(rows[row][column]));
        (int Row, double Size) best = (-1, 0);
        int shortest = int.MaxValue;
        foreach (int row in columns[column])
        {
            if (!openRow[row] || rows[row].Count > shortest)
                continue;
            double size = Math.Abs(rows[row][column]);
            if (size < Threshold * largest || size < Nothing)
                continue;
            if (rows[row].Count < shortest || (size / largest, -row).CompareTo((best.Size, -best.Row)) > 0)
                (best, shortest) = ((row, size / largest), rows[row].Count);
        }
        return best;
    }

    private void Eliminate(int pivotRow, int pivotColumn)
    {
        Dictionary<int, double> pivotEntries = rows[pivotRow];
        double pivot = pivotEntries[pivotColumn];
        foreach (int column in pivotEntries.Keys)
        {
            columns[column].Remove(pivotRow);
            candidates[column] = null;
        }
        int[] lower = [.. columns[pivotColumn].Order()];
        int[] upper = [.. pivotEntries.Keys.Where(column => column != pivotColumn).Order()];
        foreach (int row in lower)
        {
            Dictionary<int, double> entries = rows[row];
            double factor = entries[pivotColumn] / pivot;
            entries.Remove(pivotColumn);
            foreach (int column in upper)
            {
                if (columns[column].Add(row))
                    entries[column] = 0;
                entries[column] -= factor * pivotEntries[column];
            }
            foreach (int column in entries.Keys)
                candidates[column] = null;
        }
        columns[pivotColumn].Clear();
        (openRow[pivotRow], openColumn[pivotColumn]) = (false, false);
        pivots.Add((pivotRow, pivotColumn));
        uppers.Add(upper);
        lowers.Add(lower);
    }

    private static int[] Left(int size, IEnumerable<int> taken)
    {
        HashSet<int> gone = [.. taken];
        return [.. Enumerable.Range(0, size).Where(i => !gone.Contains(i))];
    }

    private Dictionary<(int, int), int> WriteDown()
    {
        Dictionary<(int, int), int> places = [];
        int next = 1;
        pivotPlaces = new int[pivots.Count];
        for (int step = 0; step < pivots.Count; step++)
        {
            (int row, int column) = pivots[step];
            pivotPlaces[step] = next;
            places[(row, column)] = next++;
            foreach (int upper in uppers[step])
                places[(row, upper)] = next++;
            foreach (int lower in lowers[step])
                places[(lower, column)] = next++;
        }
        foreach (int row in Rows)
            foreach (int column in rows[row].Keys.Order())
                places[(row, column)] = next++;
        Places = next;
        upperCounts = [.. uppers.Select(upper => upper.Length)];
        lowerCounts = [.. lowers.Select(lower => lower.Length)];
        pivotRows = [.. pivots.Select(pivot => pivot.Row)];
        lowerRows = [.. lowers.SelectMany(lower => lower)];
        targets =
        [
            .. Enumerable.Range(0, pivots.Count)
                .SelectMany(step => lowers[step].SelectMany(lower => uppers[step].Select(upper => places[(lower, upper)]))),
        ];
        return places;
    }
}
