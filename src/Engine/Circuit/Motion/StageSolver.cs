using System.Runtime.CompilerServices;
using System.Numerics;

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

    private readonly Circuit circuit;
    private readonly Pass pass;
    private readonly double[] residual;
    private readonly double[] step;
    private readonly double[] rounding;
    private readonly Charges charges;
    private readonly StepFactors factors;
    private double curvature = double.PositiveInfinity; // the last seen size of a pass over the square of the one before

    public StageSolver(Circuit circuit, Charges charges)
    {
        (this.circuit, this.charges) = (circuit, charges);
        pass = circuit.Pass;
        factors = new(circuit, charges);
        residual = new double[circuit.Length];
        step = new double[circuit.Length];
        rounding = new double[circuit.Length];
    }

    /// <summary>Newton passes since the start.</summary>
    public long Passes { get; private set; }

    /// <summary>Row with the largest weighted move where a stage last failed.</summary>
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
            if (!Move(x, time, rate, known, weights, out double size) || (count > 4 && size > 2 * last))
                break;
            if (!wasLimited && !pass.Limited)
                LearnCurvature(size / (last * last));
            bool isLast = size < Converged || ((count > 1 || !looksTwice) && NextIsSmall(size));
            if (!pass.Limited && (isLast || (count > 2 && IsAtRounding(x, known, rate))))
            {
                if (factors.OutrunsFlip(pass.G, pass.C, rate))
                    break;
                Close(rate, known, f, q);
                return true;
            }
            (last, wasLimited) = (size, pass.Limited);
        }
        WorstRow = RowOfLargest(weights);
        return false;
    }

    // One pass of Newton; false when it leads nowhere.
    private bool Move(double[] x, double time, double rate, double[] known, double[] weights, out double size)
    {
        Passes++;
        size = double.NaN;
        Array.Copy(x, pass.X, x.Length);
        pass.Limiting = true;
        circuit.Evaluate(time, Regime.Motion);
        pass.Limiting = false;
        Combine(rate, known);
        if (!factors.Factor(pass.G, pass.C, rate))
            return false;
        factors.Solve(residual, step);
        size = Take(x, weights);
        return double.IsFinite(size);
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
    public void Filter(double[] right, double[] answer) => factors.Solve(right, answer);

    [MethodImpl(MethodImplOptions.AggressiveOptimization)]
    private void Combine(double rate, double[] known)
    {
        double[] f = pass.F;
        double[] q = pass.Q;
        Vector<double> r = new(rate);
        int i = 0;
        for (; i <= residual.Length - Vector<double>.Count; i += Vector<double>.Count)
            (new Vector<double>(f, i) + r * new Vector<double>(q, i) - new Vector<double>(known, i)).CopyTo(residual, i);
        for (; i < residual.Length; i++)
            residual[i] = f[i] + rate * q[i] - known[i];
        residual[0] = 0;
    }

    // Moves x by the step and gives the largest move in units of its tolerance; NaN comes out as NaN.
    [MethodImpl(MethodImplOptions.AggressiveOptimization)]
    private double Take(double[] x, double[] weights)
    {
        Vector<double> largest = Vector<double>.Zero;
        int i = 0;
        for (; i <= x.Length - Vector<double>.Count; i += Vector<double>.Count)
        {
            Vector<double> move = new(step, i);
            (new Vector<double>(x, i) - move).CopyTo(x, i);
            largest = Vector.Max(largest, Vector.Abs(move) * new Vector<double>(weights, i));
        }
        double size = 0;
        for (int lane = 0; lane < Vector<double>.Count; lane++)
            size = Math.Max(size, largest[lane]);
        for (; i < x.Length; i++)
        {
            x[i] -= step[i];
            size = Math.Max(size, Math.Abs(step[i]) * weights[i]);
        }
        return size;
    }

    private int RowOfLargest(double[] weights)
    {
        int worst = 0;
        for (int i = 1; i < step.Length; i++)
            if (!(Math.Abs(step[i]) * weights[i] <= Math.Abs(step[worst]) * weights[worst]))
                worst = i;
        return worst;
    }

    // In a very short step the charges are huge against what flows: the answer is then known to their rounding only.
    private bool IsAtRounding(double[] x, double[] known, double rate)
    {
        double[] matrix = factors.Matrix(pass.G, pass.C, rate);
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
        Array.Copy(pass.Q, q, q.Length);
        charges.AddProduct(pass.C, step, -1, q);
        Array.Copy(known, f, f.Length);
        Columns.AddScaled(f, q, -rate);
        (f[0], q[0]) = (0, 0);
    }
}
