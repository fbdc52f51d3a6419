using System.Numerics;
using System.Runtime.CompilerServices;
using Consort.Engine.Circuit.Parts;

namespace Consort.Engine.Circuit.Motion;

/// <summary>
/// Makes steps of a Rosenbrock method: one factorisation a step, and no Newton. In charge form: the charges Q are states of
/// their own, dQ/dt = −f(x, t) with 0 = q(x) − Q, so that what leaves one capacitor arrives in the next to rounding. A
/// stage's increments are u of x and v of Q; with v eliminated, u follows from the same matrix as a Newton step's:
/// (G + C/(hγ))·u = −f(X) + Σ cⱼ·vⱼ/h − d·h·∂f/∂t − L/(hγ), and v = C·u + L, where L = q(X) − Q + d·h·∂q/∂t is lacking.
/// </summary>
internal sealed class LinearMaker : StepMaker
{
    // The derivative by time is a difference over this share of the step, and no less than this share of the time.
    private const double ShareOfStep = 1e-7;
    private const double ShareOfTime = 1e-13;

    private readonly Circuit circuit;
    private readonly Rosenbrock method;
    private readonly Pass pass;
    private readonly Charges charges;
    private readonly StepFactors factors;
    private readonly Tolerances tolerances;
    private readonly List<PartBank> moving = []; // banks whose equations hang on the time just now
    private readonly double[] f0;
    private readonly double[] q0;
    private readonly double[] g0;
    private readonly double[] c0;
    private readonly double[] byTime; // ∂f/∂t
    private readonly double[] chargeByTime; // ∂q/∂t
    private readonly double[] stageX;
    private readonly double[] stageQ;
    private readonly double[] coupled;
    private readonly double[] right;
    private readonly double[] nothing;
    private readonly double[][] moves; // u
    private readonly double[][] charged; // v
    private readonly double[] scaled;
    private double[] fromX;
    private double[] fromQ;
    private double[] toX;
    private double[] toQ;
    private long passes;
    private bool isKnown; // f, q and their derivatives at the start

    public LinearMaker(Circuit circuit, Rosenbrock method, Accuracy accuracy, IEnumerable<int> reads, Charges charges)
    {
        (this.circuit, this.method, this.charges) = (circuit, method, charges);
        pass = circuit.Pass;
        factors = new(circuit, charges);
        tolerances = new(circuit, accuracy, charges, reads);
        (g0, c0) = (new double[circuit.Pattern.Slots], new double[circuit.Pattern.Slots]);
        (f0, q0, byTime, chargeByTime) = (Column(), Column(), Column(), Column());
        (stageX, stageQ) = (Column(), Column());
        (coupled, right, nothing) = (Column(), Column(), Column());
        (fromX, fromQ, toX, toQ) = (Column(), Column(), Column(), Column());
        moves = [.. method.A.Select(_ => Column())];
        charged = [.. method.A.Select(_ => Column())];
        scaled = new double[method.Stages];
    }

    private double[] Column() => new double[circuit.Length];

    /// <inheritdoc/>
    public override double[] From => fromX;

    /// <inheritdoc/>
    public override double[] To => toX;

    /// <inheritdoc/>
    public override long Passes => passes;

    /// <summary>The unknown with the largest error in the last step, and its residual at the start.</summary>
    public override (string Unknown, double Residual) Worst
    {
        get
        {
            _ = tolerances.Largest(moves[^1], toX, out int unknown);
            return (circuit.Unknowns[unknown].Name, f0[unknown]);
        }
    }

    /// <inheritdoc/>
    public override void Start(double[] x, double time)
    {
        x.CopyTo(fromX, 0);
        x.CopyTo(pass.X, 0);
        circuit.Forget();
        circuit.Evaluate(time, Regime.Motion);
        pass.Q.CopyTo(fromQ, 0);
        isKnown = false;
    }

    /// <inheritdoc/>
    public override double[] Charge => fromQ;

    /// <inheritdoc/>
    public override void TakeOver(double[] x, double[] charge, double time)
    {
        x.CopyTo(fromX, 0);
        charge.CopyTo(fromQ, 0);
        isKnown = false;
    }

    /// <inheritdoc/>
    public override void Begin(double h)
    {
        (fromX, toX) = (toX, fromX);
        (fromQ, toQ) = (toQ, fromQ);
        isKnown = false;
    }

    /// <inheritdoc/>
    public override bool Make(double time, double h)
    {
        if (!isKnown)
            Know(time, h);
        double rate = 1 / (h * method.Gamma);
        if (!factors.Factor(g0, c0, rate) || factors.OutrunsFlip(g0, c0, rate))
            return false;
        for (int stage = 0; stage < method.Stages; stage++)
            if (!Advance(stage, time, h, rate))
                return false;
        Columns.Sum(toX, stageX, moves[^1]);
        Columns.Sum(toQ, stageQ, charged[^1]);
        return true;
    }

    // What the start says: kept for as long as steps from it are tried.
    private void Know(double time, double h)
    {
        passes++;
        fromX.CopyTo(pass.X, 0);
        circuit.Evaluate(time, Regime.Motion);
        pass.F.CopyTo(f0, 0);
        pass.Q.CopyTo(q0, 0);
        pass.G.CopyTo(g0, 0);
        pass.C.CopyTo(c0, 0);
        (f0[0], q0[0]) = (0, 0);
        KnowByTime(time, time + ShareOfStep * h + ShareOfTime * Math.Abs(time));
        isKnown = true;
    }

    private void KnowByTime(double time, double later)
    {
        moving.Clear();
        foreach (PartBank bank in circuit.Banks)
            if (bank.HangsOnTime(later))
                moving.Add(bank);
        if (moving.Count == 0)
        {
            Array.Clear(byTime);
            Array.Clear(chargeByTime);
            return;
        }
        circuit.EvaluateOnly(moving, later);
        pass.F.CopyTo(byTime, 0);
        pass.Q.CopyTo(chargeByTime, 0);
        circuit.EvaluateOnly(moving, time);
        double span = later - time;
        for (int i = 1; i < byTime.Length; i++)
        {
            byTime[i] = (byTime[i] - pass.F[i]) / span;
            chargeByTime[i] = (chargeByTime[i] - pass.Q[i]) / span;
        }
        (byTime[0], chargeByTime[0]) = (0, 0);
    }

    private bool Advance(int stage, double time, double h, double rate)
    {
        double[] a = method.A[stage];
        double[] coupling = method.Coupling[stage];
        for (int j = 0; j < stage; j++)
            scaled[j] = coupling[j] / h;
        Columns.Sum(stageX, fromX, moves, a, stage);
        Columns.Sum(stageQ, fromQ, charged, a, stage);
        Columns.Sum(coupled, nothing, charged, scaled, stage);
        (double[] f, double[] q) = (f0, q0);
        if (stage > 0)
        {
            passes++;
            Array.Copy(stageX, pass.X, stageX.Length);
            circuit.EvaluateFlows(time + method.C[stage] * h);
            (f, q) = (pass.F, pass.Q);
            (f[0], q[0]) = (0, 0);
        }
        double[] v = charged[stage];
        Balance(f, q, v, -h * method.D[stage], rate);
        factors.Solve(right, moves[stage]);
        if (!Columns.AreFinite(moves[stage]))
            return false;
        charges.AddProduct(c0, moves[stage], 1, v);
        v[0] = 0;
        return true;
    }

    // The right-hand side, and in v the charge that is lacking; d is −h·D.
    [MethodImpl(MethodImplOptions.AggressiveOptimization)]
    private void Balance(double[] f, double[] q, double[] v, double d, double rate)
    {
        Vector<double> vd = new(d);
        Vector<double> vr = new(rate);
        int i = 0;
        for (; i <= right.Length - Vector<double>.Count; i += Vector<double>.Count)
        {
            Vector<double> lack = new Vector<double>(q, i) - new Vector<double>(stageQ, i) - vd * new Vector<double>(chargeByTime, i);
            Vector<double> value = new Vector<double>(coupled, i) - new Vector<double>(f, i) + vd * new Vector<double>(byTime, i) - vr * lack;
            lack.CopyTo(v, i);
            value.CopyTo(right, i);
        }
        for (; i < right.Length; i++)
        {
            v[i] = q[i] - stageQ[i] - d * chargeByTime[i];
            right[i] = coupled[i] - f[i] + d * byTime[i] - rate * v[i];
        }
    }

    /// <inheritdoc/>
    public override double LocalError() => tolerances.Largest(moves[^1], toX, out _);
}
