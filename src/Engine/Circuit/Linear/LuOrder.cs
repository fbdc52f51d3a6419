namespace Consort.Engine.Circuit.Linear;

/// <summary>
/// Chooses the order of elimination once, from the pattern and one set of typical values: Markowitz's count with
/// threshold pivoting (Duff, Erisman, Reid, Direct Methods for Sparse Matrices, 2nd ed. 2017, ch. 7), and writes the
/// elimination down as a flat program.
/// </summary>
internal static class LuOrder
{
    // A pivot may be this much smaller than the largest of its column: the usual trade of fill against growth.
    private const double Threshold = 0.01;
    private const int ColumnsToLookThrough = 8;

    /// <summary>The program; null when the matrix is singular to working precision.</summary>
    public static LuProgram? Find(SparsePattern pattern, ReadOnlySpan<double> values)
    {
        Elimination work = new(pattern, values);
        return work.Finish() ? work.ToProgram() : null;
    }

    /// <summary>A column that a singular matrix leaves without a pivot; 0 when it is not singular.</summary>
    public static int OpenColumn(SparsePattern pattern, ReadOnlySpan<double> values)
    {
        Elimination work = new(pattern, values);
        return work.Finish() ? 0 : work.FirstLeft;
    }

    private sealed class Elimination
    {
        private readonly SparsePattern pattern;
        private readonly Dictionary<int, double>[] rows; // active rows: column to value
        private readonly HashSet<int>[] columns; // active columns: their rows
        private readonly List<(int Row, int Column)> pivots = [];
        private readonly List<int[]> uppers = []; // columns of each pivot row past the pivot
        private readonly List<int[]> lowers = []; // rows of each pivot column past the pivot
        private readonly SortedSet<(int Length, int Column)> shortest = [];

        public Elimination(SparsePattern pattern, ReadOnlySpan<double> values)
        {
            this.pattern = pattern;
            rows = new Dictionary<int, double>[pattern.Size + 1];
            columns = new HashSet<int>[pattern.Size + 1];
            for (int i = 0; i <= pattern.Size; i++)
                (rows[i], columns[i]) = ([], []);
            for (int slot = 1; slot < pattern.Slots; slot++)
            {
                rows[pattern.Rows[slot]][pattern.Columns[slot]] = values[slot];
                columns[pattern.Columns[slot]].Add(pattern.Rows[slot]);
            }
            for (int i = 1; i <= pattern.Size; i++)
            {
                Equilibrate(rows[i]);
                shortest.Add((columns[i].Count, i));
            }
        }

        // Rows of volts and rows of amperes only compare once each is scaled to its own largest entry.
        private static void Equilibrate(Dictionary<int, double> row)
        {
            double largest = 0;
            foreach (double value in row.Values)
                largest = Math.Max(largest, Math.Abs(value));
            if (largest == 0)
                return;
            foreach (int column in row.Keys)
                row[column] /= largest;
        }

        /// <summary>Eliminates all that can be.</summary>
        public bool Finish()
        {
            for (int step = 0; step < pattern.Size; step++)
            {
                (int row, int column) = BestPivot(Threshold);
                if (row < 0)
                    return false;
                Eliminate(row, column);
            }
            return true;
        }

        /// <summary>The first column that is left.</summary>
        public int FirstLeft => shortest.Min.Column;

        // Looks through the few shortest columns only (Zlatev's restriction of Markowitz's search): the best of those is
        // rarely worse than the best of all, and the search no longer grows with the square of the size.
        public (int Row, int Column) BestPivot(double threshold)
        {
            (int Row, int Column) best = (-1, -1);
            long bestCount = long.MaxValue;
            double bestSize = 0;
            int looked = 0;
            foreach ((int length, int column) in shortest)
            {
                if (looked >= ColumnsToLookThrough || (length - 1) > bestCount)
                    break;
                double largest = LargestInColumn(column);
                if (length == 0 || largest < 1e-280)
                    continue;
                looked++;
                foreach (int row in columns[column])
                {
                    double size = Math.Abs(rows[row][column]);
                    if (size < threshold * largest || size == 0)
                        continue;
                    long count = (long)(rows[row].Count - 1) * (length - 1);
                    double relative = size / largest;
                    if (count < bestCount || (count == bestCount && Better(relative, row, column, bestSize, best)))
                        (best, bestCount, bestSize) = ((row, column), count, relative);
                }
            }
            return best;
        }

        private void SetLength(int column, int before)
        {
            if (columns[column].Count == before)
                return;
            shortest.Remove((before, column));
            shortest.Add((columns[column].Count, column));
        }

        // Ties go to the larger pivot, then to the lower row and column, so that the order never depends on hashing.
        private static bool Better(double size, int row, int column, double bestSize, (int Row, int Column) best) =>
            size > bestSize || (size == bestSize && (row, column).CompareTo(best) < 0);

        private double LargestInColumn(int column)
        {
            double largest = 0;
            foreach (int row in columns[column])
                largest = Math.Max(largest, Math.Abs(rows[row][column]));
            return largest;
        }

        public void Eliminate(int pivotRow, int pivotColumn)
        {
            Dictionary<int, double> pivotEntries = rows[pivotRow];
            double pivot = pivotEntries[pivotColumn];
            foreach (int column in pivotEntries.Keys)
            {
                columns[column].Remove(pivotRow);
                SetLength(column, columns[column].Count + 1);
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
                    {
                        entries[column] = 0;
                        SetLength(column, columns[column].Count - 1);
                    }
                    entries[column] -= factor * pivotEntries[column];
                }
            }
            shortest.Remove((columns[pivotColumn].Count, pivotColumn));
            columns[pivotColumn].Clear();
            pivots.Add((pivotRow, pivotColumn));
            uppers.Add(upper);
            lowers.Add(lower);
        }

        public LuProgram ToProgram()
        {
            Dictionary<(int, int), int> places = [];
            int next = 1; // place 0 is for what is thrown away
            List<int> pivotPlaces = [];
            for (int step = 0; step < pivots.Count; step++)
            {
                (int row, int column) = pivots[step];
                pivotPlaces.Add(next);
                places[(row, column)] = next++;
                foreach (int upper in uppers[step])
                    places[(row, upper)] = next++;
                foreach (int lower in lowers[step])
                    places[(lower, column)] = next++;
            }
            List<int> targets = [];
            for (int step = 0; step < pivots.Count; step++)
                foreach (int lower in lowers[step])
                    foreach (int upper in uppers[step])
                        targets.Add(places[(lower, upper)]);
            int[] rowSteps = new int[pattern.Size + 1];
            int[] columnSteps = new int[pattern.Size + 1];
            for (int step = 0; step < pivots.Count; step++)
                rowSteps[pivots[step].Row] = columnSteps[pivots[step].Column] = step;
            int[] load = new int[pattern.Slots];
            for (int slot = 1; slot < pattern.Slots; slot++)
                load[slot] = places[(pattern.Rows[slot], pattern.Columns[slot])];
            return new LuProgram(
                pattern.Size,
                next,
                load,
                [.. pivots.Select(p => p.Row)],
                [.. pivots.Select(p => p.Column)],
                [.. pivotPlaces],
                [.. uppers.Select(u => u.Length)],
                [.. lowers.Select(l => l.Length)],
                [.. uppers.SelectMany(u => u).Select(column => columnSteps[column])],
                [.. lowers.SelectMany(l => l).Select(row => rowSteps[row])],
                [.. targets]
            );
        }
    }
}
