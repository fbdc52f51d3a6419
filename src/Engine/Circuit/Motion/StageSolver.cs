using System.Numerics;
using Consort.Engine.Circuit.Linear;

namespace Consort.Engine.Circuit.Motion;

/// <summary>
/// Solves one implicit stage: f(X, t) + q(X)/(hγ) = known, by Newton with a fresh sparse factorisation each pass, and
/// leaves behind f and q at the answer, both to second order in the last move.
/// </summary>
internal sealed class StageSolver
{
    private const int MostPasses = 9;
    private const double Converged = 0.03; // of the step's own error tolerance
    private const double CurvatureDoubt = 1.03;
    private const double QuickestFlip = 1e10; // 1/s: what grows faster than that is taken as a jump
    private const double ShortStepRate = 1e13; // 1/s

    private readonly Circuit circuit;
    private readonly Pass pass;
    private readonly double[] matrix;
    private readonly double[] residual;
    private readonly double[] step;
    private readonly double[] rounding;
    private bool? shortStepIsNegative; // sign of the determinant for a short step, for the present program
    private double curvature = double.PositiveInfinity; // the last seen size of a pass over the square of the one before
    private readonly int[] chargeSlots;
    private LuFactors<double>? factors;

    public StageSolver(Circuit circuit, int[] chargeSlots)
    {
        this.circuit = circuit;
        this.chargeSlots = chargeSlots;
        pass = circuit.Pass;
        matrix = new double[circuit.Pattern.Slots];
        residual = new double[circuit.Length];
        step = new double[circuit.Length];
        rounding = new double[circuit.Length];
        if (circuit.MotionProgram is { } program)
            factors = new(program);
    }

    /// <summary>Newton passes since the start.</summary>
    public long Passes { get; private set; }

    /// <summary>Row with the largest weighted move of the last pass.</summary>
    public int WorstRow { get; private set; }

    /// <summary>Residual of that row before the last move.</summary>
    public double WorstResidual => residual[WorstRow];

    /// <summary>After a corner the circuit may bend in another way: the next stages are to be looked at twice.</summary>
    public void ForgetCurvature() => curvature = double.PositiveInfinity;

    /// <summary>Solves a stage.</summary>
    /// <param name="x">Guess; the answer on success.</param>
    /// <param name="time">Time of the stage, s.</param>
    /// <param name="rate">1/(hγ), 1/s.</param>
    /// <param name="known">Right-hand side: what q and the earlier stages bring.</param>
    /// <param name="weights">1/tolerance of each unknown.</param>
    /// <param name="f">Receives f at the answer.</param>
    /// <param name="q">Receives q at the answer.</param>
    /// <param name="looksTwice">True to learn anew how fast passes shrink.</param>
    public bool Solve(
        double[] x,
        double time,
        double rate,
        double[] known,
        double[] weights,
        double[] f,
        double[] q,
        bool looksTwice
    )
    {
        double last = double.PositiveInfinity;
        bool wasLimited = true; // the first pass has none before it
        for (int count = 1; count <= MostPasses; count++)
        {
            Passes++;
            Array.Copy(x, pass.X, x.Length);
            pass.Limiting = true;
            circuit.Evaluate(time, Regime.Motion);
            pass.Limiting = false;
            Combine(rate, known);
            if (!Factor())
                return false;
            factors!.Solve(residual, step);
            double size = Take(x, weights);
            if (!double.IsFinite(size) || (count > 4 && size > 2 * last))
                return false;
            if (!wasLimited && !pass.Limited)
                LearnCurvature(size / (last * last));
            if (!pass.Limited && (size < Converged || ((count > 1 || !looksTwice) && NextIsSmall(size)) || (count > 2 && IsAtRounding(x, known))))
            {
                if (OutrunsFlip(rate, known))
                    return false;
                Close(rate, known, f, q);
                return true;
            }
            (last, wasLimited) = (size, pass.Limited);
        }
        return false;
    }

    // A state that grows by itself (a trigger about to flip) is held where it is by steps longer than its growth takes, as
    // an implicit method damps it. The determinant of G + C/(hγ) then has another sign than for a short step.
    private bool OutrunsFlip(double rate, double[] known)
    {
        if (rate > QuickestFlip)
            return false;
        bool isNegative = factors!.IsNegative;
        if (shortStepIsNegative is null)
        {
            for (int i = 0; i < matrix.Length; i++)
                matrix[i] = pass.G[i] + ShortStepRate * pass.C[i];
            bool factored = factors.Factor(matrix);
            shortStepIsNegative = factored ? factors.IsNegative : isNegative;
            Combine(rate, known);
            factors.Factor(matrix);
        }
        return isNegative != shortStepIsNegative;
    }

    // Newton's passes shrink with the square of their size: where the factor is known, a pass whose successor would be
    // too small to matter is the last one. The factor is taken as growing until it is seen again.
    private bool NextIsSmall(double size)
    {
        if (!(curvature * size * size < Converged))
            return false;
        curvature *= CurvatureDoubt;
        return true;
    }

    private void LearnCurvature(double seen) =>
        curvature = double.IsFinite(curvature) ? Math.Max(seen, 0.5 * curvature) : seen;

    /// <summary>Applies the inverse of the last stage's matrix: turns a charge error into an error of the unknowns.</summary>
    public void Filter(double[] right, double[] answer) => factors!.Solve(right, answer);

    private void Combine(double rate, double[] known)
    {
        double[] g = pass.G;
        double[] c = pass.C;
        Vector<double> r = new(rate);
        int i = 0;
        for (; i <= matrix.Length - Vector<double>.Count; i += Vector<double>.Count)
            (new Vector<double>(g, i) + r * new Vector<double>(c, i)).CopyTo(matrix, i);
        for (; i < matrix.Length; i++)
            matrix[i] = g[i] + rate * c[i];
        double[] f = pass.F;
        double[] q = pass.Q;
        for (i = 1; i < residual.Length; i++)
            residual[i] = f[i] + rate * q[i] - known[i];
        residual[0] = 0;
    }

    private bool Factor()
    {
        if (factors is not null && factors.Factor(matrix))
            return true;
        LuProgram? program = LuOrder.Find(circuit.Pattern, matrix);
        if (program is null)
            return false;
        circuit.MotionProgram = program;
        factors = new(program);
        shortStepIsNegative = null;
        return factors.Factor(matrix);
    }

    private double Take(double[] x, double[] weights)
    {
        double size = 0;
        for (int i = 1; i < x.Length; i++)
        {
            x[i] -= step[i];
            double scaled = Math.Abs(step[i]) * weights[i];
            if (!(scaled <= size))
                (size, WorstRow) = (scaled, i);
        }
        return size;
    }

    // In a very short step the charges are huge against what flows: the answer is then known to their rounding only.
    private bool IsAtRounding(double[] x, double[] known)
    {
        Array.Clear(rounding);
        int[] rows = circuit.Pattern.Rows;
        int[] columns = circuit.Pattern.Columns;
        for (int slot = 1; slot < matrix.Length; slot++)
            rounding[rows[slot]] += Math.Abs(matrix[slot] * x[columns[slot]]);
        for (int i = 1; i < residual.Length; i++)
            if (!(Math.Abs(residual[i]) <= 1e-15 * (rounding[i] + Math.Abs(known[i]))))
                return false;
        return true;
    }

    // f and q at the answer: q by its derivative along the last move, f from the stage's equation.
    private void Close(double rate, double[] known, double[] f, double[] q)
    {
        double[] c = pass.C;
        int[] rows = circuit.Pattern.Rows;
        int[] columns = circuit.Pattern.Columns;
        Array.Copy(pass.Q, q, q.Length);
        foreach (int slot in chargeSlots)
            q[rows[slot]] -= c[slot] * step[columns[slot]];
        for (int i = 1; i < f.Length; i++)
            f[i] = known[i] - rate * q[i];
        (f[0], q[0]) = (0, 0);
    }
}
