using Consort.Engine.Circuit.Linear;
using Consort.Engine.Circuit;
using Consort.Engine.Pitch.Builds.Draws;
using Consort.Engine.Pitch.Builds.Lanes;
using Consort.Engine.Quantities;

namespace Consort.Engine.Pitch.Builds.PitchPath;

/// <summary>The system that is left of the whole circuit when all that is constant has been eliminated.</summary>
internal sealed class ReducedSystem
{
    // By how much a reduced system may differ from the whole circuit in first order: share of an effect, or cents.
    private const double Agreement = 1e-3;

    private readonly WholePath path;
    private readonly PathReach reach;
    private readonly int[] rowOf; // unknown of the whole circuit to equation, −1
    private readonly int[] columnOf;
    private readonly List<(int Row, int Column)> entries = [];
    private readonly Dictionary<(int, int), int> entryOf = [];
    private readonly int count;

    private readonly double threshold;

    public ReducedSystem(WholePath path, double threshold)
    {
        (this.path, reach, this.threshold) = (path, path.Reach, threshold);
        bool[][] keeps = Keeps();
        bool[] rows = [.. keeps.Select(row => row.Any(keep => keep))];
        bool[] columns = [.. path.Elimination.Columns.Select((_, j) => keeps.Any(row => row[j]))];
        rowOf = Numbered(path.Elimination.Rows, rows);
        columnOf = Numbered(path.Elimination.Columns, columns);
        count = rows.Count(keep => keep);
        // Where nothing drawn reaches the timing current it is kept all the same: it is what is read.
        bool isRead = rowOf[path.ChargedRow] >= 0 && columnOf[reach.Branch] >= 0;
        IsWhole = isRead && count == columns.Count(keep => keep);
        for (int i = 0; i < keeps.Length; i++)
            for (int j = 0; j < keeps.Length; j++)
                if (keeps[i][j])
                    EntryAt(rowOf[path.Elimination.Rows[i] + 1], columnOf[path.Elimination.Columns[j] + 1]);
        IsWhole = IsWhole && HasAnswer();
    }

    /// <summary>True when as many equations as unknowns stayed, and they have an answer.</summary>
    public bool IsWhole { get; }

    // With the live parts at their slopes in the design.
    private bool HasAnswer()
    {
        double[] own = Constants(0);
        Dictionary<(int, int), double> values = [];
        foreach (((int row, int column), int entry) in entryOf)
            values[(row, column)] = own[entry];
        foreach (PartAlone part in path.Live)
            foreach (int slot in part.Slots)
            {
                (int row, int column) = (rowOf[path.Circuit.Pattern.Rows[slot]], columnOf[path.Circuit.Pattern.Columns[slot]]);
                if (row >= 0 && column >= 0)
                    values[(row, column)] = values.GetValueOrDefault((row, column)) + path.SlopeOf(part, slot);
            }
        SparsePattern pattern = new(count, [0, .. values.Keys.Select(key => key.Item1 + 1)], [0, .. values.Keys.Select(key => key.Item2 + 1)]);
        double[] matrix = [0, .. values.Values];
        return LuOrder.Find(pattern, matrix) is { } order && Agrees(order, matrix);
    }

    // In first order the system must say of every parameter what the whole circuit says.
    private bool Agrees(LuProgram order, double[] matrix)
    {
        LuFactors<double> factors = new(order);
        if (!factors.Factor(matrix))
            return false;
        int middle = path.Answers.Notes.Length / 2;
        double[] reading = new double[count + 1];
        reading[columnOf[reach.Branch] + 1] = Cents.PerNeper / path.Answers.Current(reach.Branch, 0, middle);
        double[] adjoint = new double[count + 1];
        factors.SolveTransposed(reading, adjoint);
        foreach (int p in reach.Parameters)
        {
            RowSlopes slopes = path.Answers.Slopes[0][middle][p];
            One[] right = path.Forwarded(slopes, 0);
            double sum = 0;
            foreach (int row in path.Elimination.Rows)
                if (rowOf[row + 1] >= 0)
                    sum += adjoint[rowOf[row + 1] + 1] * right[row].Value;
            double width = path.Draws.Parameters[p].HalfWidth;
            double whole = width * slopes.Project(reach.Adjoints[middle]);
            if (!(Math.Abs(width * sum - whole) <= Agreement * (1 + Math.Abs(whole))))
                return false;
        }
        return true;
    }

    private int[] Numbered(int[] places, bool[] kept)
    {
        int[] numbers = new int[path.Elimination.Size + 1];
        Array.Fill(numbers, -1);
        int next = 0;
        for (int i = 0; i < places.Length; i++)
            if (kept[i])
                numbers[places[i] + 1] = next++;
        return numbers;
    }

    private int EntryAt(int row, int column)
    {
        if (row < 0 || column < 0)
            return -1;
        if (!entryOf.TryGetValue((row, column), out int entry))
        {
            entryOf[(row, column)] = entry = entries.Count;
            entries.Add((row, column));
        }
        return entry;
    }

    // Equations and unknowns stay when anything they carry, from the largest moves of an unknown to the reading, is not
    // nothing. Of those that stay, entries that carry a hundred times less stay as well: an equation is kept whole or not at
    // all, since half an equation is a wrong one.
    private bool[][] Keeps()
    {
        int[][] places = path.Elimination.Remaining;
        double[][] carried = [.. places.Select(row => new double[row.Length])];
        for (int i = 0; i < places.Length; i++)
            for (int j = 0; j < places.Length; j++)
                carried[i][j] = places[i][j] == 0 ? 0 : Carried(path.Elimination.Rows[i] + 1, path.Elimination.Columns[j] + 1, places[i][j]);
        double[] most = [.. Enumerable.Range(0, places.Length).Select(j => carried.Max(row => row[j]))];
        return
        [
            .. carried.Select(
                (row, i) => row.Select((c, j) => places[i][j] > 0 && row.Max() >= threshold && most[j] >= threshold && c >= 0.01 * threshold).ToArray()
            ),
        ];
    }

    private double Carried(int row, int column, int place)
    {
        double entry = path.Eliminated.Max(work => Math.Abs(work[place].Value));
        double most = 0;
        for (int n = 0; n < reach.Adjoints.Length; n++)
            most = Math.Max(most, Math.Abs(reach.Adjoints[n][row]) * entry * path.Moves[n][column]);
        return most;
    }

    public PathPlan Plan()
    {
        Conductance[] conductances = path.Conductances;
        Ends[] ends = [.. conductances.Select(c => new Ends(At(rowOf, c.A), At(rowOf, c.B), At(columnOf, c.A), At(columnOf, c.B)))];
        int[][] conductanceEntries =
        [
            .. ends.Select(e => (int[])[EntryAt(e.RowA, e.ColumnA), EntryAt(e.RowA, e.ColumnB), EntryAt(e.RowB, e.ColumnA), EntryAt(e.RowB, e.ColumnB)]),
        ];
        double[][] constants = [.. path.Points.Kelvins.Select((_, k) => Constants(k))];
        PartialElimination elimination = Inner(constants[0]);
        int Left(int[] left, int place) => place < 0 ? -1 : Array.IndexOf(left, place);
        LivePart[] live =
        [
            .. path.Live.Select(part => new LivePart(
                part.Place.Bank.Parts[part.Place.Index].Name,
                WholePath.LiveColumns(part),
                [.. WholePath.LiveColumns(part).Select(column => Left(elimination.Columns, columnOf[column]))],
                WholePath.LiveRows(part),
                [.. WholePath.LiveRows(part).Select(row => Left(elimination.Rows, rowOf[row]))],
                [.. ParametersOf(part)]
            )),
        ];
        return new()
        {
            Oscillator = path.Oscillator,
            Kelvins = path.Points.Kelvins,
            Volts = path.Points.Volts,
            Reach = reach,
            Parameters = [.. reach.Parameters.Select(p => path.Draws.Parameters[p])],
            ValueBeside = [.. reach.Parameters.Select(ValueBeside)],
            Size = count,
            Conductances = conductances,
            Ends = ends,
            Across = ByPoint<double[]>((k, n) => [.. conductances.Select(c => path.Points.X[k][n][c.A] - path.Points.X[k][n][c.B])]),
            Shifts = FindShifts([.. path.Live.SelectMany(ParametersOf).Select(pair => pair.Parameter)]),
            Constants = constants,
            ConductanceEntries = conductanceEntries,
            Elimination = elimination,
            RowWeights = [.. elimination.Rows.Select(row => RowWeights()[row])],
            Reading = Array.IndexOf(elimination.Columns, columnOf[reach.Branch]),
            Live = live,
            Points = path.Points,
            Currents = [.. path.Points.Kelvins.Select((_, k) => path.Points.Volts.Select((_, n) => path.Points.X[k][n][reach.Branch]).ToArray())],
        };
    }

    private static int At(int[] numbers, int node) => node > 0 ? numbers[node] : -1;

    private T[][] ByPoint<T>(Func<int, int, T> make) =>
        [.. path.Points.Kelvins.Select((_, k) => path.Points.Volts.Select((_, n) => make(k, n)).ToArray())];

    private double[] Constants(int k)
    {
        double[] values = new double[entries.Count];
        int[][] places = path.Elimination.Remaining;
        for (int i = 0; i < places.Length; i++)
            for (int j = 0; j < places.Length; j++)
                if (entryOf.TryGetValue((rowOf[path.Elimination.Rows[i] + 1], columnOf[path.Elimination.Columns[j] + 1]), out int entry))
                    values[entry] = path.Eliminated[k][places[i][j]].Value;
        return values;
    }

    private PartialElimination Inner(double[] values)
    {
        (bool[] rows, bool[] columns) = (new bool[count], new bool[count]);
        double[] weights = RowWeights();
        foreach (PartAlone part in path.Live)
        {
            foreach (int row in WholePath.LiveRows(part).Where(row => rowOf[row] >= 0))
                rows[rowOf[row]] = true;
            foreach (int column in WholePath.LiveColumns(part).Where(column => columnOf[column] >= 0))
                columns[columnOf[column]] = true;
        }
        // The timing current is read off the equation of the node that it charges, unless a live part bends that.
        int branch = columnOf[reach.Branch];
        int node = rowOf[path.ChargedRow];
        columns[branch] = true;
        if (rows[node])
            return new(count, [.. entries.Select((entry, e) => (entry.Row, entry.Column, values[e]))], weights, rows, columns);
        rows[node] = true;
        return new(count, [.. entries.Select((entry, e) => (entry.Row, entry.Column, values[e]))], weights, rows, columns, (node, branch));
    }

    private int ValueBeside(int p)
    {
        DrawnParameter drawn = path.Draws.Parameters[p];
        if (drawn.Word != "tempco")
            return -1;
        foreach (int other in reach.Parameters)
            if (path.Draws.Parameters[other].Place == drawn.Place && path.Draws.Parameters[other].Word == "value")
                return path.ParameterPlace[other];
        return -1;
    }

    private double[] RowWeights()
    {
        double[] weights = new double[count];
        for (int row = 1; row < rowOf.Length; row++)
            if (rowOf[row] >= 0)
                weights[rowOf[row]] = reach.Adjoints.Max(adjoint => Math.Abs(adjoint[row]));
        return weights;
    }

    private IEnumerable<(string Word, int Parameter)> ParametersOf(PartAlone part)
    {
        foreach (int p in reach.Parameters)
            if (path.Draws.Parameters[p].Place == part.Place)
                yield return (path.Draws.Parameters[p].Word, path.ParameterPlace[p]);
    }

    private Shift[][][] FindShifts(HashSet<int> ofLive)
    {
        HashSet<int> ofConductances = [.. path.Conductances.SelectMany(c => (int[])[c.Value, c.Tempco])];
        int[] shifting =
        [
            .. reach.Parameters.Where(p => !ofLive.Contains(path.ParameterPlace[p]) && !ofConductances.Contains(path.ParameterPlace[p])),
        ];
        Shift[][][] shifts = new Shift[path.Points.Kelvins.Length][][];
        for (int k = shifts.Length - 1; k >= 0; k--)
        {
            path.Circuit.SetTemperature(path.Points.Kelvins[k]);
            shifts[k] = [.. path.Points.Volts.Select((_, n) => shifting.SelectMany(p => ShiftsOf(p, k, n)).ToArray())];
        }
        return shifts;
    }

    private IEnumerable<Shift> ShiftsOf(int p, int k, int n)
    {
        DrawnParameter drawn = path.Draws.Parameters[p];
        One[] right = path.Forwarded(path.Answers.SlopesOf(p, k, n), k);
        foreach (int row in path.Elimination.Rows)
        {
            double slope = right[row].Value;
            double cents = reach.Adjoints.Max(adjoint => Math.Abs(adjoint[row + 1] * slope * drawn.HalfWidth));
            if (rowOf[row + 1] >= 0 && slope != 0 && cents >= 0.1 * threshold)
                yield return new(path.ParameterPlace[p], rowOf[row + 1], slope);
        }
    }
}
