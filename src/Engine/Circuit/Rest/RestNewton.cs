using Consort.Engine.Circuit.Linear;

namespace Consort.Engine.Circuit.Rest;

/// <summary>
/// Newton's method on f(x) = 0, or on f(x) + (q(x) - q0 + S·(x - x0))/h = 0 for a step of backward Euler towards rest
/// (S: a small capacitance from every net to ground).
/// </summary>
internal sealed class RestNewton
{
    private const double RelativeStep = 1e-9;
    private const double VoltageStep = 1e-12;
    private const double CurrentStep = 1e-15;
    private const double Stray = 1e-12; // F, from every net to ground while creeping to rest

    private readonly Circuit circuit;
    private readonly Pass pass;
    private readonly double[] matrix;
    private readonly double[] residual;
    private readonly double[] step;
    private readonly double[] rounding;
    private double largestVoltageMove;
    private LuFactors<double>? factors;

    public RestNewton(Circuit circuit)
    {
        this.circuit = circuit;
        pass = circuit.Pass;
        matrix = new double[circuit.Pattern.Slots];
        residual = new double[circuit.Length];
        step = new double[circuit.Length];
        rounding = new double[circuit.Length];
    }

    /// <summary>Passes used by the last solve.</summary>
    public int Passes { get; private set; }

    /// <summary>The largest residual of the last pass, and its row.</summary>
    public (double Size, int Row) Worst()
    {
        (double Size, int Row) worst = (0, 0);
        for (int i = 1; i < residual.Length; i++)
            if (!(Math.Abs(residual[i]) <= worst.Size))
                worst = (Math.Abs(residual[i]), i);
        return worst;
    }

    /// <summary>Solves at rest from the guess x, which becomes the answer.</summary>
    /// <param name="x">Guess and answer.</param>
    /// <param name="mostPasses">Bound on the work.</param>
    /// <param name="largestMove">Bound on any voltage's move in one pass, V.</param>
    public bool Solve(double[] x, int mostPasses, double largestMove = double.PositiveInfinity) =>
        Run(x, null, null, double.PositiveInfinity, mostPasses, largestMove);

    /// <summary>One step of backward Euler towards rest.</summary>
    public bool Creep(double[] x, double[] from, double[] chargesBefore, double h, int mostPasses) =>
        Run(x, from, chargesBefore, h, mostPasses, double.PositiveInfinity);

    private bool Run(double[] x, double[]? from, double[]? before, double h, int mostPasses, double largestMove)
    {
        double last = double.PositiveInfinity;
        int polish = 0;
        for (Passes = 1; Passes <= mostPasses; Passes++)
        {
            Assemble(x, from, before, h);
            if (!Factor())
                return false;
            factors!.Solve(residual, step);
            double size = Take(x, largestMove);
            if (double.IsNaN(size))
                return false;
            if (pass.Limited || size > 1)
            {
                if (!pass.Limited && (HasStalled(size, last) || (largestVoltageMove <= 1 && IsAtRounding(x))))
                    return true;
                last = size;
                continue;
            }
            // Below the tolerance Newton still gains digits: go on while it does.
            if (size > 0.5 * last || size == 0 || ++polish > 3)
                return true;
            last = size;
        }
        return false;
    }

    // Near the answer Newton squares its error; moves of a hundred tolerances (0.1 nV) that no longer shrink are the
    // rounding of sums inside the parts, which the matrix does not show: gains of 2e5 against supplies of 12 V.
    private static bool HasStalled(double size, double last) => size < 100 && last < 100 && size > 0.5 * last;

    // Supply wiring has tens of siemens and volts across the sums that must cancel: the branch currents there are known
    // to the rounding of those sums, not to the step's floor.
    private bool IsAtRounding(double[] x)
    {
        Array.Clear(rounding);
        for (int slot = 1; slot < matrix.Length; slot++)
            rounding[circuit.Pattern.Rows[slot]] += Math.Abs(matrix[slot] * x[circuit.Pattern.Columns[slot]]);
        for (int i = 1; i < residual.Length; i++)
            if (!(Math.Abs(residual[i]) <= 2e-15 * rounding[i]))
                return false;
        return true;
    }

    private void Assemble(double[] x, double[]? from, double[]? before, double h)
    {
        x.CopyTo(pass.X, 0);
        pass.Limiting = true;
        circuit.Evaluate(0, Regime.Rest);
        pass.Limiting = false;
        Array.Copy(pass.G, matrix, matrix.Length);
        Array.Copy(pass.F, residual, residual.Length);
        if (from is null)
            return;
        double rate = 1 / h;
        for (int slot = 1; slot < matrix.Length; slot++)
            matrix[slot] += rate * pass.C[slot];
        for (int i = 1; i < residual.Length; i++)
        {
            residual[i] += rate * (pass.Q[i] - before![i]);
            if (circuit.Unknowns[i].Kind != UnknownKind.Voltage || circuit.Unknowns[i].IsInner)
                continue;
            matrix[circuit.DiagonalSlot(i)] += rate * Stray;
            residual[i] += rate * Stray * (x[i] - from[i]);
        }
    }

    private bool Factor()
    {
        if (factors is not null && factors.Factor(matrix))
            return true;
        LuProgram? program = factors is null ? circuit.RestProgram ?? LuOrder.Find(circuit.Pattern, matrix) : LuOrder.Find(circuit.Pattern, matrix);
        if (program is null)
            return false;
        circuit.RestProgram = program;
        factors = new(program);
        return factors.Factor(matrix);
    }

    // Moves x and returns the move in units of the tolerance.
    private double Take(double[] x, double largestMove)
    {
        double size = 0;
        largestVoltageMove = 0;
        double factor = 1;
        for (int i = 1; i < x.Length && largestMove < double.PositiveInfinity; i++)
            if (circuit.Unknowns[i].Kind == UnknownKind.Voltage && Math.Abs(step[i]) * factor > largestMove)
                factor = largestMove / Math.Abs(step[i]);
        for (int i = 1; i < x.Length; i++)
        {
            double move = factor * step[i];
            x[i] -= move;
            double floor = circuit.Unknowns[i].Kind == UnknownKind.Voltage ? VoltageStep : CurrentStep;
            double scaled = Math.Abs(move) / (floor + RelativeStep * Math.Abs(x[i]));
            if (scaled > largestVoltageMove && circuit.Unknowns[i].Kind == UnknownKind.Voltage)
                largestVoltageMove = scaled;
            if (!(scaled <= size))
                size = scaled; // a NaN comes through
        }
        return factor < 1 ? Math.Max(size, 2) : size;
    }
}
