using Consort.Engine.Circuit.Linear;

namespace Consort.Engine.Circuit.Rest;

/// <summary>
/// Newton's method on f(x) = 0, or on f(x) + (q(x) - q0 + S·(x - x0))/h = 0 for a step of backward Euler towards rest
/// (S: a small capacitance from every net to ground).
/// </summary>
internal sealed class RestNewton
{
    private const double Stray = 1e-12; // F, from every net to ground while creeping to rest

    // Newton squares its error: a move of 10 nV against bends of 25 mV leaves 2e-15 V behind.
    private const double Exact = 1e-8; // V

    // A third of a junction's e-fold: from there Newton converges.
    private const double Near = 0.01; // V

    private const double Noise = 1e-6; // V

    // Backward error of a linear solve, relative to the terms of each row.
    private const double WellSolved = 1e-10;

    /// <summary>Where a step of backward Euler starts, and 1/h.</summary>
    private sealed record Start(double[] X, double[] Charges, double Rate);

    private readonly Circuit circuit;
    private readonly Pass pass;
    private readonly double[] matrix;
    private readonly double[] residual;
    private readonly double[] step;
    private LuFactors<double>? factors;
    private bool isSingular;

    public RestNewton(Circuit circuit)
    {
        this.circuit = circuit;
        pass = circuit.Pass;
        matrix = new double[circuit.Pattern.Slots];
        residual = new double[circuit.Length];
        step = new double[circuit.Length];
    }

    /// <summary>Passes used by the last solve.</summary>
    public int Passes { get; private set; }

    /// <summary>Takes the circuit's order of elimination, whatever the last solve came to use.</summary>
    public void Begin()
    {
        if (factors?.Program != circuit.RestProgram)
            factors = circuit.RestProgram is { } program ? new(program) : null;
    }

    /// <summary>An unknown that the last pass's equations leave open; 0 when there is none.</summary>
    public int OpenUnknown() =>
        isSingular && Array.TrueForAll(matrix, double.IsFinite) ? LuOrder.OpenColumn(circuit.Pattern, matrix) : 0;

    /// <summary>What was left over in a row at the last pass.</summary>
    public double Residual(int row) => Math.Abs(residual[row]);

    /// <summary>The largest residual of the last pass, and its row.</summary>
    public (double Size, int Row) Worst()
    {
        (double Size, int Row) worst = (0, 0);
        for (int i = 1; i < residual.Length; i++)
            if (!(Math.Abs(residual[i]) <= worst.Size))
                worst = (Math.Abs(residual[i]), i);
        return worst;
    }

    /// <summary>The largest voltage among unknowns, V.</summary>
    public double LargestVoltage(double[] x)
    {
        double largest = 0;
        for (int i = 1; i < x.Length; i++)
            if (circuit.Unknowns[i].Kind == UnknownKind.Voltage)
                largest = Math.Max(largest, Math.Abs(x[i]));
        return largest;
    }

    /// <summary>Solves at rest, to the rounding of the equations, from the guess x, which becomes the answer.</summary>
    /// <param name="x">Guess and answer.</param>
    /// <param name="mostPasses">Bound on the work.</param>
    /// <param name="leap">A voltage that moves further in one pass, V, tells that this leads nowhere.</param>
    public bool Solve(double[] x, int mostPasses, double leap) => Run(x, null, mostPasses, leap, Exact);

    /// <summary>The same to within <see cref="Near"/>, for a point on the way.</summary>
    public bool Approach(double[] x, int mostPasses, double leap) => Run(x, null, mostPasses, leap, Near);

    /// <summary>One step of backward Euler towards rest, to within <see cref="Near"/>.</summary>
    /// <param name="x">Guess and answer.</param>
    /// <param name="from">Where the step starts.</param>
    /// <param name="charges">Charges there.</param>
    /// <param name="h">Its length, s.</param>
    /// <param name="mostPasses">Bound on the work.</param>
    public bool Creep(double[] x, double[] from, double[] charges, double h, int mostPasses) =>
        Run(x, new(from, charges, 1 / h), mostPasses, double.PositiveInfinity, Near);

    private bool Run(double[] x, Start? start, int mostPasses, double leap, double near)
    {
        double last = double.PositiveInfinity;
        bool isReordered = false;
        for (Passes = 1; Passes <= mostPasses; Passes++)
        {
            Assemble(x, start);
            if (!Factor())
                return false;
            factors!.Solve(residual, step);
            double move = Take(x);
            if (!(move <= leap))
                return false;
            // Sums inside the parts may have more rounding than that: gains of 2e5 behind gains, against supplies of 12 V.
            bool hasStalled = move < Noise && last < Noise && move > 0.5 * last;
            last = move;
            if (pass.Limited || !(move < near || hasStalled))
                continue;
            if (near > Exact || isReordered || IsSolvedWell())
                return true;
            isReordered = true;
            factors = null;
        }
        Passes = mostPasses;
        return false;
    }

    private void Assemble(double[] x, Start? start)
    {
        x.CopyTo(pass.X, 0);
        pass.Limiting = true;
        circuit.Evaluate(0, Regime.Rest);
        pass.Limiting = false;
        Array.Copy(pass.G, matrix, matrix.Length);
        Array.Copy(pass.F, residual, residual.Length);
        if (start is null)
            return;
        double rate = start.Rate;
        for (int slot = 1; slot < matrix.Length; slot++)
            matrix[slot] += rate * pass.C[slot];
        for (int i = 1; i < residual.Length; i++)
        {
            residual[i] += rate * (pass.Q[i] - start.Charges[i]);
            if (circuit.Unknowns[i].Kind != UnknownKind.Voltage || circuit.Unknowns[i].IsInner)
                continue;
            matrix[circuit.DiagonalSlot(i)] += rate * Stray;
            residual[i] += rate * Stray * (x[i] - start.X[i]);
        }
    }

    private bool Factor()
    {
        isSingular = false;
        if (factors is not null && factors.Factor(matrix))
            return true;
        LuProgram? program = LuOrder.Find(circuit.Pattern, matrix);
        isSingular = program is null;
        if (program is null)
            return false;
        circuit.RestProgram = program;
        factors = new(program);
        return factors.Factor(matrix);
    }

    // An order of elimination found where the op amps slept may serve the way, but loses digits at the answer.
    private bool IsSolvedWell()
    {
        double[] size = new double[residual.Length];
        double[] left = (double[])residual.Clone();
        for (int slot = 1; slot < matrix.Length; slot++)
        {
            double term = matrix[slot] * step[circuit.Pattern.Columns[slot]];
            left[circuit.Pattern.Rows[slot]] -= term;
            size[circuit.Pattern.Rows[slot]] += Math.Abs(term);
        }
        for (int i = 1; i < left.Length; i++)
            if (!(Math.Abs(left[i]) <= WellSolved * size[i]))
                return false;
        return true;
    }

    // Moves x; returns the largest move of a voltage, V. A NaN comes through.
    private double Take(double[] x)
    {
        double largest = 0;
        for (int i = 1; i < x.Length; i++)
        {
            x[i] -= step[i];
            double move = Math.Abs(step[i]);
            if (!(move <= largest) && (circuit.Unknowns[i].Kind == UnknownKind.Voltage || !double.IsFinite(move)))
                largest = move;
        }
        return largest;
    }
}
