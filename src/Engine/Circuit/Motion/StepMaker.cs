namespace Consort.Engine.Circuit.Motion;

/// <summary>
/// Makes one step of a tableau from a state, without deciding whether to keep it. In charge form: stage i solves
/// q(Xᵢ) + h·Σ aᵢⱼ f(Xⱼ, tⱼ) = q₀, so that charge is conserved to rounding.
/// </summary>
internal sealed class StepMaker
{
    private readonly Circuit circuit;
    private readonly Tableau tableau;
    private readonly StageSolver solver;
    private readonly double[] known;
    private readonly double[] error;
    private readonly double[] errorX;
    private readonly double[] slope; // dx/dt at the start of the step, for guesses
    private readonly bool[] counts; // unknowns whose error is looked at: those that carry charge or decide a moment
    private readonly double[] weights;
    private readonly double[] tolerance;
    private readonly double[] relative;

    public StepMaker(Circuit circuit, Tableau tableau, Accuracy accuracy, IEnumerable<int> reads)
    {
        this.circuit = circuit;
        this.tableau = tableau;
        int length = circuit.Length;
        int[] chargeSlots = ChargeSlots(circuit);
        solver = new(circuit, chargeSlots);
        (known, error, errorX, slope) = (new double[length], new double[length], new double[length], new double[length]);
        counts = new bool[length];
        foreach (int slot in chargeSlots)
            counts[circuit.Pattern.Columns[slot]] = true;
        weights = new double[length];
        Dictionary<int, double> decisive = Decisive.Unknowns(circuit, reads);
        foreach (int unknown in decisive.Keys)
            counts[unknown] = true;
        (tolerance, relative) = Tolerances(circuit, accuracy, decisive);
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

    /// <summary>Newton passes so far.</summary>
    public long Passes => solver.Passes;

    /// <summary>The unknown that moved most in the last pass, and its residual.</summary>
    public (string Unknown, double Residual) Worst =>
        (circuit.Unknowns[solver.WorstRow].Name, solver.WorstResidual);

    private double[][] MakeStages() => [.. Enumerable.Range(0, tableau.Stages).Select(_ => new double[circuit.Length])];

    private static (double[] Tolerance, double[] Relative) Tolerances(Circuit circuit, Accuracy accuracy, Dictionary<int, double> decisive)
    {
        double[] tolerance = new double[circuit.Length];
        double[] relative = new double[circuit.Length];
        for (int i = 1; i < circuit.Length; i++)
        {
            double scale = circuit.Unknowns[i].Kind == UnknownKind.Voltage ? accuracy.VoltageScale : accuracy.CurrentScale;
            relative[i] = accuracy.Relative * (decisive.TryGetValue(i, out double share) ? share * accuracy.Timing : 1);
            tolerance[i] = relative[i] * scale;
        }
        return (tolerance, relative);
    }

    // Slots that hold a charge's derivative: found by stamping at a few wild states, since a bank stamps the same slots
    // everywhere.
    private static int[] ChargeSlots(Circuit circuit)
    {
        HashSet<int> found = [];
        Random random = new(20260101);
        for (int trial = 0; trial < 3; trial++)
        {
            for (int i = 1; i < circuit.Length; i++)
                circuit.Pass.X[i] = trial == 0 ? 0 : 10 * (random.NextDouble() - 0.5);
            circuit.Evaluate(0, Regime.Motion);
            for (int slot = 1; slot < circuit.Pattern.Slots; slot++)
                if (circuit.Pass.C[slot] != 0)
                    found.Add(slot);
        }
        return [.. found.Order()];
    }

    /// <summary>Starts from a state: evaluates f and q there.</summary>
    public void Start(double[] x, double time)
    {
        int last = tableau.Stages - 1;
        x.CopyTo(StageX[last], 0);
        x.CopyTo(circuit.Pass.X, 0);
        circuit.Forget();
        circuit.Evaluate(time, Regime.Motion);
        circuit.Pass.F.CopyTo(StageF[last], 0);
        circuit.Pass.Q.CopyTo(StageQ[last], 0);
        Begin();
        ForgetSlope();
    }

    /// <summary>Makes the last step's end the start of the next.</summary>
    public void Begin()
    {
        int last = tableau.Stages - 1;
        (StageX[0], StageX[last]) = (StageX[last], StageX[0]);
        (StageF[0], StageF[last]) = (StageF[last], StageF[0]);
        (StageQ[0], StageQ[last]) = (StageQ[last], StageQ[0]);
        for (int i = 1; i < weights.Length; i++)
            weights[i] = 1 / (tolerance[i] + relative[i] * Math.Abs(StageX[0][i]));
    }

    /// <summary>After a corner the past says nothing of the slope.</summary>
    public void ForgetSlope()
    {
        Array.Clear(slope);
        solver.ForgetCurvature();
    }

    /// <summary>Takes the slope at the end of the step just made, for the next one's guesses.</summary>
    public void KeepSlope(double h)
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

    /// <summary>Makes a step; false when a stage does not converge.</summary>
    public bool Make(double time, double h)
    {
        double gamma = tableau.Gamma;
        double rate = 1 / (h * gamma);
        for (int stage = 1; stage < tableau.Stages; stage++)
        {
            Guess(stage, h);
            double[] row = tableau.A[stage];
            double[] q0 = StageQ[0];
            Columns.Scale(known, q0, rate);
            for (int j = 0; j < stage; j++)
                Columns.AddScaled(known, StageF[j], -row[j] / gamma);
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
        StageX[0].CopyTo(x, 0);
        Columns.AddScaled(x, slope, s - bend * s1);
        Columns.AddScaled(x, known, bend);
        Columns.AddScaled(x, StageX[0], -bend);
    }

    /// <summary>The local error of the step just made, in units of its tolerance.</summary>
    public double LocalError()
    {
        Array.Clear(error);
        for (int j = 0; j < tableau.Stages; j++)
            Columns.AddScaled(error, StageF[j], tableau.Error[j] / tableau.Gamma);
        solver.Filter(error, errorX);
        double[] end = StageX[^1];
        double worst = 0;
        for (int i = 1; i < errorX.Length; i++)
        {
            if (!counts[i])
                continue;
            double size = Math.Abs(errorX[i]) / (tolerance[i] + relative[i] * Math.Abs(end[i]));
            if (!(size <= worst))
                worst = size;
        }
        return worst;
    }
}
