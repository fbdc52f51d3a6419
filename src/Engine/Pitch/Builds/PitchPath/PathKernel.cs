using System.Runtime.CompilerServices;
using System.Runtime.InteropServices;
using Consort.Engine.Pitch.Builds.Lanes;

namespace Consort.Engine.Pitch.Builds.PitchPath;

/// <summary>
/// Solves one oscillator's pitch path for several builds side by side. What is linear is eliminated once for each position of
/// the trimmers; a note then costs a few Newton passes over the handful of unknowns of the parts that bend. A lane that has
/// converged moves no more, so that its answer does not depend on its neighbours. One thread at a time.
/// </summary>
internal sealed class PathKernel<T>
    where T : struct, ILanes<T>
{
    // Newton squares its error against 2·VT: a last move of 5 µV leaves 2.5e-10 V, 0.00002 cent.
    private const double Near = 5e-6; // V
    private const int MostPasses = 25;
    private const double Nothing = 1e-9; // share of the design's current

    private readonly PathPlan plan;
    private readonly LiveDevice<T>[] devices;
    private readonly int width;
    private readonly T[] departures;
    private readonly int[] shifting; // parameters that shift equations
    private readonly T[] units; // their departures in their own units
    private readonly T[] work;
    private readonly T[] change; // Δg of each conductance
    private readonly T[] right;
    private readonly T[] rest; // S of what is left, row by row
    private readonly T[] start; // residual at δ = 0
    private readonly T[] moves;
    private readonly T[] residual;
    private readonly T[] slopes;
    private readonly T[] answer;
    private readonly int[] order; // pivot rows of the dense system, column by column
    private readonly double[] nominal; // g of the design
    private readonly T[] values;
    private readonly T[] tempcos;
    private int at;

    /// <summary>For a plan.</summary>
    /// <param name="plan">Shared by all threads.</param>
    /// <param name="circuit">The voice compiled, for nobody else.</param>
    public PathKernel(PathPlan plan, Circuit.Circuit circuit)
    {
        this.plan = plan;
        devices = [.. plan.Live.Select(part => LiveDevice<T>.For(plan, part, circuit))];
        width = plan.Elimination.Rows.Length;
        departures = new T[plan.Parameters.Length];
        units = new T[departures.Length];
        shifting = [.. plan.Shifts.SelectMany(notes => notes).SelectMany(shifts => shifts).Select(shift => shift.Parameter).Distinct()];
        work = new T[plan.Elimination.Places];
        change = new T[plan.Conductances.Length];
        nominal = new double[change.Length];
        (values, tempcos) = (new T[change.Length], new T[change.Length]);
        right = new T[plan.Size];
        rest = new T[width * width];
        slopes = new T[width * width];
        answer = new T[width];
        (start, moves, residual) = (new T[width], new T[width], new T[width]);
        order = new int[width];
        Take(departures);
        SetTemperature(0);
        Turn([.. Enumerable.Repeat(T.Of(double.NaN), TrimmerCount)]);
        ChooseOrder();
    }

    /// <summary>Notes that can be read.</summary>
    public int Notes => plan.Volts.Length;

    /// <summary>Newton passes of all lanes together so far.</summary>
    public long Passes { get; private set; }

    private int TrimmerCount => plan.Conductances.Length == 0 ? 0 : plan.Conductances.Max(c => c.Trimmer) + 1;

    /// <summary>Takes builds: departures by the plan's parameters.</summary>
    public void Take(ReadOnlySpan<T> builds)
    {
        builds.CopyTo(departures);
        foreach (int parameter in shifting)
            units[parameter] = Unit(parameter);
    }

    /// <summary>Brings the builds to one of the plan's temperatures. Call <see cref="Turn"/> afterwards.</summary>
    public void SetTemperature(int k)
    {
        at = k;
        double warmer = plan.Kelvins[k] - Circuit.Constants.ReferenceTemperature;
        for (int i = 0; i < change.Length; i++)
        {
            Conductance conductance = plan.Conductances[i];
            values[i] = conductance.Value < 0 ? T.Of(0) : departures[conductance.Value];
            tempcos[i] = conductance.Tempco < 0 ? T.Of(0) : departures[conductance.Tempco];
            nominal[i] = conductance.Siemens(new One(0), new One(0), new One(conductance.Position), warmer).Value;
        }
        foreach (LiveDevice<T> device in devices)
            device.Prepare(k, departures);
    }

    /// <summary>Turns the trimmers.</summary>
    /// <param name="positions">By trimmer of the voice; no number leaves one as it is in the design.</param>
    public void Turn(ReadOnlySpan<T> positions)
    {
        double warmer = plan.Kelvins[at] - Circuit.Constants.ReferenceTemperature;
        Array.Clear(work);
        double[] constants = plan.Constants[at];
        ReadOnlySpan<int> load = plan.Elimination.Load;
        for (int i = 0; i < constants.Length; i++)
            work[load[i]] = T.Of(constants[i]);
        for (int i = 0; i < change.Length; i++)
        {
            Conductance conductance = plan.Conductances[i];
            T position = conductance.Trimmer < 0 ? T.Of(conductance.Position) : positions[conductance.Trimmer];
            if (conductance.Trimmer >= 0)
                position = T.Choose(T.Less(position, T.Of(2)), position, T.Of(conductance.Position)); // no number is not less
            T g = conductance.Siemens(values[i], tempcos[i], position, warmer) - T.Of(nominal[i]);
            change[i] = g;
            int[] entries = plan.ConductanceEntries[i];
            AddTo(entries[0], load, g);
            AddTo(entries[1], load, -g);
            AddTo(entries[2], load, -g);
            AddTo(entries[3], load, g);
        }
        plan.Elimination.Eliminate(work);
        for (int i = 0; i < width; i++)
            for (int j = 0; j < width; j++)
                rest[i * width + j] = work[plan.Elimination.Remaining[i][j]];
    }

    private void AddTo(int entry, ReadOnlySpan<int> load, T value)
    {
        if (entry >= 0)
            work[load[entry]] += value;
    }

    /// <summary>Natural logarithm of the builds' timing current over the design's, at a note; no number where the path has no
    /// answer. What the last call left behind serves as first guess.</summary>
    public T Read(int n)
    {
        Begin(n);
        T open = T.Less(T.Of(0), T.Of(1));
        for (int pass = 0; pass < MostPasses; pass++)
        {
            Passes++;
            T largest = Pass(n, open);
            // No number is not less, either: such a lane ends, and its current tells.
            open = T.And(open, T.Less(T.Of(Near), largest));
            if (!T.Any(open))
                break;
        }
        T moved = plan.Reading >= 0 ? moves[plan.Reading] : plan.Elimination.Last<T>(work, right, moves);
        T share = T.Of(1) + moved * T.Of(1 / plan.Currents[at][n]);
        // A lane that never came near is no answer; nor is one whose current stopped or is no number.
        T isSound = T.Less(T.Of(Nothing), share);
        T logarithm = LaneMath.Log(T.Choose(isSound, share, T.Of(1)));
        return T.Choose(open, T.Of(double.NaN), T.Choose(isSound, logarithm, T.Of(double.NaN)));
    }

    /// <summary>Forgets what the last reading left behind: a build that is to be read alike in any company begins so.</summary>
    public void Forget() => Array.Clear(moves);

    // The equations' residual at the design's own rest.
    private void Begin(int n)
    {
        Array.Clear(right);
        double[] across = plan.Across[at][n];
        for (int i = 0; i < change.Length; i++)
        {
            T current = change[i] * T.Of(across[i]);
            Ends ends = plan.Ends[i];
            if (ends.RowA >= 0)
                right[ends.RowA] += current;
            if (ends.RowB >= 0)
                right[ends.RowB] -= current;
        }
        foreach (Shift shift in plan.Shifts[at][n])
            right[shift.Row] = T.Fma(units[shift.Parameter], T.Of(shift.Slope), right[shift.Row]);
        plan.Elimination.Forward(work, right);
        for (int i = 0; i < width; i++)
            start[i] = right[plan.Elimination.Rows[i]];
    }

    // A departure in the parameter's own unit.
    private T Unit(int parameter)
    {
        Draws.DrawnParameter drawn = plan.Parameters[parameter];
        if (plan.ValueBeside[parameter] is >= 0 and int value)
            return departures[parameter] * (T.Of(1) + departures[value]);
        return drawn.Move switch
        {
            Draws.MoveKind.Share => departures[parameter] * T.Of(drawn.Nominal),
            Draws.MoveKind.Added => departures[parameter],
            Draws.MoveKind.InverseShare => -departures[parameter] * T.Of(drawn.Nominal) / (T.Of(1) + departures[parameter]),
            _ => LaneMath.ExpLessOne(departures[parameter] * T.Of(-Draws.DrawnParameter.PerVt)) * T.Of(drawn.Nominal),
        };
    }

    private T Pass(int n, T open)
    {
        ref T move = ref MemoryMarshal.GetArrayDataReference(moves);
        ref T left = ref MemoryMarshal.GetArrayDataReference(residual);
        ref T entry = ref MemoryMarshal.GetArrayDataReference(rest);
        int size = width;
        for (int i = 0; i < size; i++)
        {
            T sum = start[i];
            for (int j = 0; j < size; j++)
                sum = T.Fma(Unsafe.Add(ref entry, j), Unsafe.Add(ref move, j), sum);
            Unsafe.Add(ref left, i) = sum;
            entry = ref Unsafe.Add(ref entry, size);
        }
        rest.AsSpan().CopyTo(slopes);
        foreach (LiveDevice<T> device in devices)
            device.Add(n, moves, residual, slopes);
        Solve();
        T largest = T.Of(0);
        for (int i = 0; i < size; i++)
        {
            T step = answer[i];
            if (i != plan.Reading)
                largest = T.Max(largest, T.Abs(step));
            Unsafe.Add(ref move, i) = T.Choose(open, Unsafe.Add(ref move, i) - step, Unsafe.Add(ref move, i));
        }
        return largest;
    }

    // Gauss elimination in the order chosen for the design.
    private void Solve()
    {
        int size = width;
        ref T first = ref MemoryMarshal.GetArrayDataReference(slopes);
        ref T rights = ref MemoryMarshal.GetArrayDataReference(residual);
        ref int rowOf = ref MemoryMarshal.GetArrayDataReference(order);
        for (int c = 0; c < size; c++)
        {
            int pivotRow = Unsafe.Add(ref rowOf, c);
            ref T pivot = ref Unsafe.Add(ref first, pivotRow * size);
            T scale = T.Of(1) / Unsafe.Add(ref pivot, c);
            Unsafe.Add(ref pivot, c) = scale;
            T own = Unsafe.Add(ref rights, pivotRow);
            for (int i = c + 1; i < size; i++)
            {
                int row = Unsafe.Add(ref rowOf, i);
                ref T other = ref Unsafe.Add(ref first, row * size);
                T factor = Unsafe.Add(ref other, c) * scale;
                for (int j = c + 1; j < size; j++)
                    Unsafe.Add(ref other, j) = T.FmaMinus(factor, Unsafe.Add(ref pivot, j), Unsafe.Add(ref other, j));
                Unsafe.Add(ref rights, row) = T.FmaMinus(factor, own, Unsafe.Add(ref rights, row));
            }
        }
        ref T found = ref MemoryMarshal.GetArrayDataReference(answer);
        for (int c = size - 1; c >= 0; c--)
        {
            int row = Unsafe.Add(ref rowOf, c);
            ref T entries = ref Unsafe.Add(ref first, row * size);
            T sum = Unsafe.Add(ref rights, row);
            for (int j = c + 1; j < size; j++)
                sum = T.FmaMinus(Unsafe.Add(ref entries, j), Unsafe.Add(ref found, j), sum);
            Unsafe.Add(ref found, c) = sum * Unsafe.Add(ref entries, c);
        }
    }

    // Partial pivoting once, at the design's own slopes in the middle of the keyboard, each row by what it does to the pitch.
    private void ChooseOrder()
    {
        Array.Clear(moves);
        rest.CopyTo(slopes, 0);
        Array.Clear(residual);
        foreach (LiveDevice<T> device in devices)
            device.Add(plan.Points.Middle, moves, residual, slopes);
        double[] lanes = new double[T.Count];
        double[,] matrix = new double[width, width];
        for (int i = 0; i < width; i++)
            for (int j = 0; j < width; j++)
            {
                T.Store(slopes[i * width + j], lanes);
                matrix[i, j] = lanes[0] * plan.RowWeights[i];
            }
        List<int> left = [.. Enumerable.Range(0, width)];
        for (int c = 0; c < width; c++)
        {
            int pivot = left.MaxBy(i => Math.Abs(matrix[i, c]));
            left.Remove(pivot);
            order[c] = pivot;
            foreach (int i in left)
            {
                double factor = matrix[i, c] / matrix[pivot, c];
                for (int j = c; j < width; j++)
                    matrix[i, j] -= factor * matrix[pivot, j];
            }
        }
    }
}
