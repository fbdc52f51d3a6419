using Consort.Engine.Circuit.Linear;
using Consort.Engine.Circuit.Parts;
using Consort.Engine.Circuit;
using Consort.Engine.Design;
using Consort.Engine.Pitch.Builds.Draws;
using Consort.Engine.Pitch.Builds.Lanes;
using Consort.Engine.Quantities;

namespace Consort.Engine.Pitch.Builds.PitchPath;

/// <summary>Makes one oscillator's <see cref="PathPlan"/>.</summary>
internal sealed class PathPlanner
{
    // A resistor that moves the pitch by less than this is taken at its slope: its own bend is a per cent of a per cent of it.
    private const double Bends = 0.01; // cents

    // By how much a reduced system may differ from the whole circuit in first order: share of an effect, or cents.
    private const double Agreement = 1e-3;

    // What couples to so little is dropped, cents.
    private const double Couples = 2e-4;

    private readonly PlayedVoice voice;
    private readonly Circuit.Circuit circuit;
    private readonly RestPoints points;
    private readonly RestAnswers answers;
    private readonly DrawPlan draws;
    private readonly PartPlace[] trimmers;
    private readonly PathReach reach;
    private readonly Dictionary<int, int> parameterPlace = []; // drawn parameter of the voice to its place in this plan
    private readonly List<Conductance> conductances;
    private readonly List<PartAlone> live;
    private readonly PartialElimination whole;
    private readonly int size;
    private readonly int chargedRow; // the node that the timing current charges
    private readonly double[][] moves; // largest of every unknown, by looked-at note
    private One[][] eliminated = [];

    public PathPlanner(PlayedVoice voice, RestPoints points, RestAnswers answers, DrawPlan draws, PartPlace[] trimmers, Oscillator oscillator, double[] inBuilds)
    {
        (this.voice, this.points, this.answers, this.draws, this.trimmers) = (voice, points, answers, draws, trimmers);
        circuit = voice.Circuit;
        size = circuit.Length - 1;
        double[] widths = [.. draws.Parameters.Select(parameter => parameter.HalfWidth)];
        reach = PathReach.Find(answers, widths, TimingCapacitor.Branch(circuit, oscillator.TimingCapacitor), inBuilds);
        foreach (int p in reach.Parameters)
            parameterPlace[p] = parameterPlace.Count;
        conductances = FindConductances();
        live = [.. LiveParts.Find(voice, points, answers, reach, draws).Select(Lawful)];
        chargedRow = Enumerable
            .Range(1, circuit.Pattern.Slots - 1)
            .Where(slot => circuit.Pattern.Columns[slot] == reach.Branch)
            .Select(slot => circuit.Pattern.Rows[slot])
            .MaxBy(row => Math.Abs(reach.Adjoints[0][row]));
        whole = EliminateWhole();
        moves = MostMoves();
        Oscillator = oscillator;
    }

    private Oscillator Oscillator { get; }

    /// <summary>Makes the plan.</summary>
    public PathPlan Plan()
    {
        eliminated = [.. points.Kelvins.Select((_, k) => Eliminated(k))];
        circuit.SetTemperature(points.Kelvins[0]);
        for (double threshold = Couples; threshold > 1e-5 * Couples; threshold /= 2)
            if (new ReducedSystem(this, threshold) is { IsWhole: true } reduced)
                return reduced.Plan();
        ReducedSystem all = new(this, 0);
        return all.IsWhole ? all.Plan() : throw new InvalidOperationException($"{Oscillator.Name}: its pitch path cannot be told from the rest of the voice");
    }

    // A transistor's series resistances stay in the constant part: its law acts between inner nodes.
    private PartAlone Lawful(PartAlone part) =>
        part.Place.Bank is BipolarBank ? new(circuit, part.Place, withConstants: false) : part;

    private List<Conductance> FindConductances()
    {
        List<Conductance> found = [];
        Dictionary<Part, (int Value, int Tempco, int Trimmer)> varied = [];
        foreach (int p in reach.Parameters)
        {
            DrawnParameter drawn = draws.Parameters[p];
            if (drawn.Part.Kind.Word is not ("resistor" or "potentiometer" or "trimmer"))
                continue;
            (int value, int tempco, int trimmer) = varied.GetValueOrDefault(drawn.Part, (-1, -1, -1));
            varied[drawn.Part] = drawn.Word == "value" ? (parameterPlace[p], tempco, trimmer) : (value, parameterPlace[p], trimmer);
        }
        foreach (int t in reach.Trimmers)
        {
            Part part = trimmers[t].Bank.Parts[trimmers[t].Index];
            (int value, int tempco, _) = varied.GetValueOrDefault(part, (-1, -1, -1));
            varied[part] = (value, tempco, t);
        }
        foreach ((Part part, (int value, int tempco, int trimmer)) in varied)
            if (trimmer >= 0 || Weight(value) >= Bends || Weight(tempco) >= Bends)
                found.AddRange(Conductance.Of(circuit, part, value, tempco, trimmer));
        return found;
    }

    private double Weight(int place) => place < 0 ? 0 : reach.Weights[reach.Parameters[place]];

    private PartialElimination EliminateWhole()
    {
        (bool[] rows, bool[] columns) = (new bool[size], new bool[size]);
        void Bar(int node)
        {
            if (node > 0)
                rows[node - 1] = columns[node - 1] = true;
        }
        foreach (Conductance conductance in conductances)
        {
            Bar(conductance.A);
            Bar(conductance.B);
        }
        foreach (PartAlone part in live)
        {
            foreach (int row in LiveRows(part))
                rows[row - 1] = true;
            foreach (int column in LiveColumns(part))
                columns[column - 1] = true;
        }
        columns[reach.Branch - 1] = rows[chargedRow - 1] = true;
        double[] values = WithoutLive(0);
        return new(size, [.. Entries().Select(slot => (circuit.Pattern.Rows[slot] - 1, circuit.Pattern.Columns[slot] - 1, values[slot]))], reach.Adjoints[0][1..], rows, columns);
    }

    private int[] LiveRows(PartAlone part) =>
        part.Place.Bank is BipolarBank bank ? Inner(bank, part.Place.Index) : part.Rows;

    private int[] LiveColumns(PartAlone part) =>
        part.Place.Bank is BipolarBank bank ? Inner(bank, part.Place.Index) : part.Columns;

    private static int[] Inner(BipolarBank bank, int part)
    {
        (int collector, int baseNode, int emitter) = bank.Inner(part);
        return [.. ((int[])[collector, baseNode, emitter]).Where(node => node > 0).Distinct()];
    }

    private IEnumerable<int> Entries() => Enumerable.Range(1, circuit.Pattern.Slots - 1);

    private double[] WithoutLive(int k)
    {
        double[] values = (double[])points.Slopes[k][points.Middle].Clone();
        double[] x = points.X[k][points.Middle];
        circuit.SetTemperature(points.Kelvins[k]);
        foreach (PartAlone part in live)
        {
            foreach (int column in part.Columns)
                part.X[column] = x[column];
            part.Evaluate();
            foreach (int slot in part.Slots)
                values[slot] -= part.G[slot];
        }
        return values;
    }

    private One[] Eliminated(int k)
    {
        One[] work = new One[whole.Places];
        double[] values = WithoutLive(k);
        for (int i = 0; i < whole.Load.Length; i++)
            work[whole.Load[i]] += new One(values[i + 1]);
        whole.Eliminate(work);
        return work;
    }

    private double[][] MostMoves() =>
        [.. reach.Directions.Select(atNote => Enumerable.Range(0, size + 1).Select(c => 3 * Math.Sqrt(atNote.Sum(d => d[c] * d[c]))).ToArray())];

    private One[] Forwarded(RowSlopes slopes, int k)
    {
        One[] right = new One[size];
        for (int i = 0; i < slopes.Rows.Length; i++)
            right[slopes.Rows[i] - 1] = new(slopes.Values[i]);
        whole.Forward(eliminated[k], right);
        return right;
    }

    private double SlopeOf(PartAlone part, int slot)
    {
        foreach (int column in part.Columns)
            part.X[column] = points.X[0][points.Middle][column];
        part.Evaluate();
        return part.G[slot];
    }

    /// <summary>The system that is left of the whole circuit when all that is constant has been eliminated.</summary>
    private sealed class ReducedSystem
    {
        private readonly PathPlanner planner;
        private readonly PathReach reach;
        private readonly int[] rowOf; // unknown of the whole circuit to equation, −1
        private readonly int[] columnOf;
        private readonly List<(int Row, int Column)> entries = [];
        private readonly Dictionary<(int, int), int> entryOf = [];
        private readonly int count;

        private readonly double threshold;

        public ReducedSystem(PathPlanner planner, double threshold)
        {
            (this.planner, reach, this.threshold) = (planner, planner.reach, threshold);
            bool[][] keeps = Keeps();
            bool[] rows = [.. keeps.Select(row => row.Any(keep => keep))];
            bool[] columns = [.. planner.whole.Columns.Select((_, j) => keeps.Any(row => row[j]))];
            rowOf = Numbered(planner.whole.Rows, rows);
            columnOf = Numbered(planner.whole.Columns, columns);
            count = rows.Count(keep => keep);
            // Where nothing drawn reaches the timing current it is kept all the same: it is what is read.
            bool isRead = rowOf[planner.chargedRow] >= 0 && columnOf[reach.Branch] >= 0;
            IsWhole = isRead && count == columns.Count(keep => keep);
            for (int i = 0; i < keeps.Length; i++)
                for (int j = 0; j < keeps.Length; j++)
                    if (keeps[i][j])
                        EntryAt(rowOf[planner.whole.Rows[i] + 1], columnOf[planner.whole.Columns[j] + 1]);
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
            foreach (PartAlone part in planner.live)
                foreach (int slot in part.Slots)
                {
                    (int row, int column) = (rowOf[planner.circuit.Pattern.Rows[slot]], columnOf[planner.circuit.Pattern.Columns[slot]]);
                    if (row >= 0 && column >= 0)
                        values[(row, column)] = values.GetValueOrDefault((row, column)) + planner.SlopeOf(part, slot);
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
            int middle = planner.answers.Notes.Length / 2;
            double[] reading = new double[count + 1];
            reading[columnOf[reach.Branch] + 1] = Cents.PerNeper / planner.answers.Current(reach.Branch, 0, middle);
            double[] adjoint = new double[count + 1];
            factors.SolveTransposed(reading, adjoint);
            foreach (int p in reach.Parameters)
            {
                RowSlopes slopes = planner.answers.Slopes[0][middle][p];
                One[] right = planner.Forwarded(slopes, 0);
                double sum = 0;
                foreach (int row in planner.whole.Rows)
                    if (rowOf[row + 1] >= 0)
                        sum += adjoint[rowOf[row + 1] + 1] * right[row].Value;
                double width = planner.draws.Parameters[p].HalfWidth;
                double whole = width * slopes.Project(reach.Adjoints[middle]);
                if (!(Math.Abs(width * sum - whole) <= Agreement * (1 + Math.Abs(whole))))
                    return false;
            }
            return true;
        }

        private int[] Numbered(int[] places, bool[] kept)
        {
            int[] numbers = new int[planner.size + 1];
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
            int[][] places = planner.whole.Remaining;
            double[][] carried = [.. places.Select(row => new double[row.Length])];
            for (int i = 0; i < places.Length; i++)
                for (int j = 0; j < places.Length; j++)
                    carried[i][j] = places[i][j] == 0 ? 0 : Carried(planner.whole.Rows[i] + 1, planner.whole.Columns[j] + 1, places[i][j]);
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
            double entry = planner.eliminated.Max(work => Math.Abs(work[place].Value));
            double most = 0;
            for (int n = 0; n < reach.Adjoints.Length; n++)
                most = Math.Max(most, Math.Abs(reach.Adjoints[n][row]) * entry * planner.moves[n][column]);
            return most;
        }

        public PathPlan Plan()
        {
            Conductance[] conductances = [.. planner.conductances];
            Ends[] ends = [.. conductances.Select(c => new Ends(At(rowOf, c.A), At(rowOf, c.B), At(columnOf, c.A), At(columnOf, c.B)))];
            int[][] conductanceEntries =
            [
                .. ends.Select(e => (int[])[EntryAt(e.RowA, e.ColumnA), EntryAt(e.RowA, e.ColumnB), EntryAt(e.RowB, e.ColumnA), EntryAt(e.RowB, e.ColumnB)]),
            ];
            double[][] constants = [.. planner.points.Kelvins.Select((_, k) => Constants(k))];
            PartialElimination elimination = Inner(constants[0]);
            int Left(int[] left, int place) => place < 0 ? -1 : Array.IndexOf(left, place);
            LivePart[] live =
            [
                .. planner.live.Select(part => new LivePart(
                    part.Place.Bank.Parts[part.Place.Index].Name,
                    planner.LiveColumns(part),
                    [.. planner.LiveColumns(part).Select(column => Left(elimination.Columns, columnOf[column]))],
                    planner.LiveRows(part),
                    [.. planner.LiveRows(part).Select(row => Left(elimination.Rows, rowOf[row]))],
                    [.. ParametersOf(part)]
                )),
            ];
            return new()
            {
                Oscillator = planner.Oscillator,
                Kelvins = planner.points.Kelvins,
                Volts = planner.points.Volts,
                Reach = reach,
                Parameters = [.. reach.Parameters.Select(p => planner.draws.Parameters[p])],
                ValueBeside = [.. reach.Parameters.Select(ValueBeside)],
                Size = count,
                Conductances = conductances,
                Ends = ends,
                Across = ByPoint<double[]>((k, n) => [.. conductances.Select(c => planner.points.X[k][n][c.A] - planner.points.X[k][n][c.B])]),
                Shifts = FindShifts([.. planner.live.SelectMany(ParametersOf).Select(pair => pair.Parameter)]),
                Constants = constants,
                ConductanceEntries = conductanceEntries,
                Elimination = elimination,
                RowWeights = [.. elimination.Rows.Select(row => RowWeights()[row])],
                Reading = Array.IndexOf(elimination.Columns, columnOf[reach.Branch]),
                Live = live,
                Points = planner.points,
                Currents = [.. planner.points.Kelvins.Select((_, k) => planner.points.Volts.Select((_, n) => planner.points.X[k][n][reach.Branch]).ToArray())],
            };
        }

        private static int At(int[] numbers, int node) => node > 0 ? numbers[node] : -1;

        private T[][] ByPoint<T>(Func<int, int, T> make) =>
            [.. planner.points.Kelvins.Select((_, k) => planner.points.Volts.Select((_, n) => make(k, n)).ToArray())];

        private double[] Constants(int k)
        {
            double[] values = new double[entries.Count];
            int[][] places = planner.whole.Remaining;
            for (int i = 0; i < places.Length; i++)
                for (int j = 0; j < places.Length; j++)
                    if (entryOf.TryGetValue((rowOf[planner.whole.Rows[i] + 1], columnOf[planner.whole.Columns[j] + 1]), out int entry))
                        values[entry] = planner.eliminated[k][places[i][j]].Value;
            return values;
        }

        private PartialElimination Inner(double[] values)
        {
            (bool[] rows, bool[] columns) = (new bool[count], new bool[count]);
            double[] weights = RowWeights();
            foreach (PartAlone part in planner.live)
            {
                foreach (int row in planner.LiveRows(part).Where(row => rowOf[row] >= 0))
                    rows[rowOf[row]] = true;
                foreach (int column in planner.LiveColumns(part).Where(column => columnOf[column] >= 0))
                    columns[columnOf[column]] = true;
            }
            // The timing current is read off the equation of the node that it charges, unless a live part bends that.
            int branch = columnOf[reach.Branch];
            int node = rowOf[planner.chargedRow];
            columns[branch] = true;
            if (rows[node])
                return new(count, [.. entries.Select((entry, e) => (entry.Row, entry.Column, values[e]))], weights, rows, columns);
            rows[node] = true;
            return new(count, [.. entries.Select((entry, e) => (entry.Row, entry.Column, values[e]))], weights, rows, columns, (node, branch));
        }

        private int ValueBeside(int p)
        {
            DrawnParameter drawn = planner.draws.Parameters[p];
            if (drawn.Word != "tempco")
                return -1;
            foreach (int other in reach.Parameters)
                if (planner.draws.Parameters[other].Place == drawn.Place && planner.draws.Parameters[other].Word == "value")
                    return planner.parameterPlace[other];
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
                if (planner.draws.Parameters[p].Place == part.Place)
                    yield return (planner.draws.Parameters[p].Word, planner.parameterPlace[p]);
        }

        private Shift[][][] FindShifts(HashSet<int> ofLive)
        {
            HashSet<int> ofConductances = [.. planner.conductances.SelectMany(c => (int[])[c.Value, c.Tempco])];
            int[] shifting =
            [
                .. reach.Parameters.Where(p => !ofLive.Contains(planner.parameterPlace[p]) && !ofConductances.Contains(planner.parameterPlace[p])),
            ];
            PartSlopes slopes = new(planner.circuit);
            Shift[][][] shifts = new Shift[planner.points.Kelvins.Length][][];
            for (int k = shifts.Length - 1; k >= 0; k--)
            {
                planner.circuit.SetTemperature(planner.points.Kelvins[k]);
                shifts[k] = [.. planner.points.Volts.Select((_, n) => shifting.SelectMany(p => ShiftsOf(p, k, n, slopes)).ToArray())];
            }
            return shifts;
        }

        private IEnumerable<Shift> ShiftsOf(int p, int k, int n, PartSlopes slopes)
        {
            DrawnParameter drawn = planner.draws.Parameters[p];
            RowSlopes own = slopes.At(drawn.Place, drawn.Word, planner.points.X[k][n]);
            One[] right = planner.Forwarded(own, k);
            foreach (int row in planner.whole.Rows)
            {
                double slope = right[row].Value;
                double cents = reach.Adjoints.Max(adjoint => Math.Abs(adjoint[row + 1] * slope * drawn.HalfWidth));
                if (rowOf[row + 1] >= 0 && slope != 0 && cents >= 0.1 * threshold)
                    yield return new(planner.parameterPlace[p], rowOf[row + 1], slope);
            }
        }
    }
}
