namespace Consort.Engine.Circuit.Motion;

/// <summary>
/// Makes one step of a tableau from a state, without deciding whether to keep it. In charge form: stage i solves
/// q(Xᵢ) + h·Σ aᵢⱼ f(Xⱼ, tⱼ) = q₀, so that charge is conserved to rounding.
/// </summary>
internal sealed class StageMaker : StepMaker
{
    private readonly Circuit circuit;
    private readonly Tableau tableau;
    private readonly StageSolver solver;
    private readonly double[] known;
    private readonly double[] error;
    private readonly double[] errorX;
    private readonly double[] slope; // dx/dt at the start of the step, for guesses
    private readonly double[] weights;
    private readonly Tolerances tolerances;
    private readonly double[][] before; // by stage: what f of the ones before it counts
    private readonly double[] errors; // what f of each stage counts in the error

    public StageMaker(Circuit circuit, Tableau tableau, Accuracy accuracy, IEnumerable<int> reads, Charges charges)
    {
        this.circuit = circuit;
        this.tableau = tableau;
        int length = circuit.Length;
        solver = new(circuit, charges);
        tolerances = new(circuit, accuracy, charges, reads);
        (known, error, errorX, slope) = (new double[length], new double[length], new double[length], new double[length]);
        weights = new double[length];
        before = [.. tableau.A.Select(row => row.Select(a => -a / tableau.Gamma).ToArray())];
        errors = [.. tableau.Error.Select(weight => weight / tableau.Gamma)];
        StageX = MakeStages();
        StageF = MakeStages();
        StageQ = MakeStages();
    }

    /// <summary>States at the stages; the first is the start, the last the end of the step.</summary>
    public double[][] StageX { get; }

    /// <summary>f at the stages.</summary>
    public double[][] StageF { get; }

    /// <summary>q at the stages.</summary>
    public double[][] StageQ { get; }

    /// <inheritdoc/>
    public override double[] From => StageX[0];

    /// <inheritdoc/>
    public override double[] To => StageX[^1];

    /// <inheritdoc/>
    public override long Passes => solver.Passes;

    /// <summary>The unknown that moved most in the last pass, and its residual.</summary>
    public override (string Unknown, double Residual) Worst =>
        (circuit.Unknowns[solver.WorstRow].Name, solver.WorstResidual);

    private double[][] MakeStages() => [.. Enumerable.Range(0, tableau.Stages).Select(_ => new double[circuit.Length])];

    /// <inheritdoc/>
    public override double[] Charge => StageQ[0];

    /// <inheritdoc/>
    public override void Start(double[] x, double time)
    {
        Evaluate(x, time);
        circuit.Pass.Q.CopyTo(StageQ[0], 0);
    }

    /// <inheritdoc/>
    public override void TakeOver(double[] x, double[] charge, double time)
    {
        Evaluate(x, time);
        charge.CopyTo(StageQ[0], 0);
    }

    private void Evaluate(double[] x, double time)
    {
        circuit.Forget();
        x.CopyTo(StageX[0], 0);
        x.CopyTo(circuit.Pass.X, 0);
        circuit.Evaluate(time, Regime.Motion);
        circuit.Pass.F.CopyTo(StageF[0], 0);
        tolerances.Weigh(x, weights);
        ForgetSlope();
    }

    /// <inheritdoc/>
    public override void Begin(double h)
    {
        KeepSlope(h);
        int last = tableau.Stages - 1;
        (StageX[0], StageX[last]) = (StageX[last], StageX[0]);
        (StageF[0], StageF[last]) = (StageF[last], StageF[0]);
        (StageQ[0], StageQ[last]) = (StageQ[last], StageQ[0]);
        tolerances.Weigh(StageX[0], weights);
    }

    /// <inheritdoc/>
    public override void ForgetSlope()
    {
        Array.Clear(slope);
        solver.ForgetCurvature();
    }

    // The slope at the end of the step just made, for the next one's guesses.
    private void KeepSlope(double h)
    {
        double[] start = StageX[0];
        double[] middle = StageX[1];
        double[] end = StageX[^1];
        double m = tableau.C[1];
        // Derivative at 1 of the parabola through 0, m and 1.
        double a = 1 / h;
        for (int i = 1; i < slope.Length; i++)
        {
            double whole = end[i] - start[i];
            double part = (middle[i] - start[i]) / m;
            double bend = (whole - part) / (1 - m);
            slope[i] = a * (whole + bend);
        }
    }

    /// <inheritdoc/>
    public override bool Make(double time, double h)
    {
        double gamma = tableau.Gamma;
        double rate = 1 / (h * gamma);
        for (int stage = 1; stage < tableau.Stages; stage++)
        {
            Guess(stage, h);
            Columns.Sum(known, StageQ[0], rate, StageF, before[stage], stage);
            if (!solver.Solve(StageX[stage], time + tableau.C[stage] * h, rate, known, weights, StageF[stage], StageQ[stage], stage == 1))
                return false;
        }
        return true;
    }

    // The parabola through the start, its slope there and the stage before.
    private void Guess(int stage, double h)
    {
        double[] x = StageX[stage];
        double s = tableau.C[stage] * h;
        double bend = 0;
        double[] known = StageX[stage - 1];
        double s1 = tableau.C[stage - 1] * h;
        if (stage > 1)
            bend = s / s1 * (s / s1);
        Columns.Sum(x, StageX[0], (s - bend * s1, slope), (bend, known), (-bend, StageX[0]));
    }

    /// <inheritdoc/>
    public override double LocalError()
    {
        Columns.Sum(error, StageF[0], 0, StageF, errors, tableau.Stages);
        solver.Filter(error, errorX);
        return tolerances.Largest(errorX, StageX[^1], out _);
    }
}
