using Consort.Engine.Circuit.Linear;
using Consort.Engine.Circuit.Motion;

namespace Consort.Engine.Circuit.Signal;

/// <summary>One parameter of one part.</summary>
public readonly record struct ParameterPlace(PartPlace Part, string Word)
{
    /// <summary>As <c>lead/R3 value</c>.</summary>
    public override string ToString() => $"{Part.Bank.Parts[Part.Index].Name} {Word}";
}

/// <summary>
/// How the time between two crossings answers to every parameter: the exact derivative of the discrete steps that were
/// made, by one sweep backwards over them (the discrete adjoint of a Runge-Kutta method: Sandu, Computational Science,
/// ICCS 2006, LNCS 3994, 550). Events shift with the state that causes them (δt = -δw/ẇ); the ramps that they start
/// shift along. The mesh itself is held.
/// </summary>
internal sealed class OrbitSensitivity
{
    private readonly Circuit circuit;
    private readonly Tableau tableau;
    private readonly Tape tape;
    private readonly Watcher watcher;
    private readonly ParameterPlace[] parameters;
    private readonly ParameterSlope slope;
    private readonly LuFactors<double> factors;
    private readonly double[] matrix;
    private readonly double[] totals;
    private readonly double[][] weights; // of f at each stage
    private readonly double[][] multipliers;
    private readonly double[][] bars;
    private readonly double[] chargeWeight;
    private readonly double[] move;
    private readonly SwitchMoves switches;

    public OrbitSensitivity(
        Circuit circuit,
        Tableau tableau,
        Tape tape,
        IReadOnlyList<Probe> probes,
        IReadOnlyList<ParameterPlace> parameters
    )
    {
        (this.circuit, this.tableau, this.tape) = (circuit, tableau, tape);
        this.parameters = [.. parameters];
        watcher = new(circuit, probes);
        slope = new(circuit);
        factors = new(circuit.MotionProgram ?? throw new InvalidOperationException("no run was made"));
        matrix = new double[circuit.Pattern.Slots];
        totals = new double[this.parameters.Length];
        weights = MakeStages();
        multipliers = MakeStages();
        bars = MakeStages();
        chargeWeight = new double[circuit.Length];
        move = new double[circuit.Length];
        switches = new(circuit, watcher);
    }

    private double[][] MakeStages() => [.. Enumerable.Range(0, tableau.Stages).Select(_ => new double[circuit.Length])];

    /// <summary>What is left of the adjoint at the start of the tape, as a share of its largest size: how far the run
    /// had forgotten its beginning.</summary>
    public double Truncation { get; private set; }

    /// <summary>How much of its phase the adjoint lost or gained in one period, as a share: the error of the mesh.</summary>
    public double PhaseError { get; private set; }

    /// <summary>d(t_last − t_first)/dp for every parameter, s per SI unit; the crossings by their step on the tape.</summary>
    public double[] OfInterval(int firstStep, int lastStep)
    {
        Array.Clear(totals);
        switches.Clear();
        Array.Clear(bars[^1]);
        double largest = 0;
        for (int step = lastStep; step >= 0; step--)
        {
            if (step == lastStep)
                AddMoment(step, 1);
            if (step == firstStep)
            {
                RestorePhase(tape.Steps[step]);
                AddMoment(step, -1);
            }
            if (tape.Steps[step].Watch >= 0 && switches.TakeCause(tape.Steps[step]) is var shift and not 0)
                AddMoment(step, shift);
            Back(tape.Steps[step]);
            double size = Size(bars[^1]);
            largest = Math.Max(largest, size);
            Truncation = largest > 0 ? size / largest : 0;
        }
        return (double[])totals.Clone();
    }

    private static double Size(double[] bar)
    {
        double size = 0;
        foreach (double value in bar)
            size = Math.Max(size, Math.Abs(value));
        return size;
    }

    // The moment at which a step's watch fires moves by -(wₓ·δx + w_p·δp)/ẇ.
    private void AddMoment(int index, double factor)
    {
        TapedStep step = tape.Steps[index];
        tape.Restore(step);
        double[] x = step.Stages[^1];
        int watch = step.Watch;
        double[] gradient = switches.Gradient(watch, x, step.End);
        double rate = Rate(watch, x, step.End);
        double scale = -factor / rate;
        for (int i = 1; i < gradient.Length; i++)
            bars[^1][i] += scale * gradient[i];
        for (int p = 0; p < parameters.Length; p++)
            totals[p] += scale * switches.ParameterGradient(watch, parameters[p], x, step.End);
    }

    // A state moved along its own orbit by δ reaches the last crossing δ sooner: λ·ẋ = −1 at every moment. The mesh is
    // held while the ramps move over it, so a coarse run loses or gains a little of that in a period; it is given back.
    private void RestorePhase(TapedStep step)
    {
        const double Short = 2e-12;
        tape.Restore(step);
        double[] x = step.Stages[^1];
        double[] near = (double[])Creep(x, step.End, Short).Clone();
        double[] far = Creep(x, step.End, 2 * Short);
        double phase = 0;
        for (int i = 1; i < x.Length; i++)
            phase -= bars[^1][i] * (far[i] - near[i]) / Short;
        PhaseError = Math.Abs(phase - 1);
        if (phase is < 0.5 or > 2)
            return;
        for (int i = 1; i < x.Length; i++)
            bars[^1][i] /= phase;
    }

    // dw/dt where the circuit stands: two short steps of backward Euler from there. Their difference is free of what the
    // state itself lacks of balance; a polynomial through the step's own stages would smear a ramp that bends.
    private double Rate(int watch, double[] x, double time)
    {
        const double Short = 2e-12;
        double near = ValueAfter(Short);
        double far = ValueAfter(2 * Short);
        return (far - near) / Short;

        double ValueAfter(double ahead) => watcher.Value(watch, Creep(x, time, ahead), time + ahead);
    }

    // One short step of backward Euler from a state.
    private double[] Creep(double[] x, double time, double ahead)
    {
        Evaluate(x, time + ahead);
        Pass pass = circuit.Pass;
        for (int i = 1; i < matrix.Length; i++)
            matrix[i] = pass.G[i] + pass.C[i] / ahead;
        if (!factors.Factor(matrix))
            throw new InvalidOperationException("a state that was reached cannot be factored again");
        factors.Solve(pass.F, move);
        for (int i = 1; i < move.Length; i++)
            move[i] = x[i] - move[i];
        return move;
    }

    // One step backwards: bars[^1] holds the adjoint of the step's end and then of its start.
    private void Back(TapedStep step)
    {
        tape.Restore(step);
        double h = step.Length;
        double rate = 1 / (h * tableau.Gamma);
        for (int stage = 0; stage < tableau.Stages - 1; stage++)
            Array.Clear(bars[stage]);
        Array.Clear(chargeWeight);
        foreach (double[] weight in weights)
            Array.Clear(weight);
        for (int stage = tableau.Stages - 1; stage >= 1; stage--)
            BackStage(step, stage, h, rate);
        BackStart(step);
        (bars[0], bars[^1]) = (bars[^1], bars[0]);
    }

    private void BackStage(TapedStep step, int stage, double h, double rate)
    {
        double time = step.Start + tableau.C[stage] * h;
        Evaluate(step.Stages[stage], time);
        Pass pass = circuit.Pass;
        AddTransposed(pass.G, weights[stage], bars[stage], -1); // from the stages after this one
        for (int i = 1; i < matrix.Length; i++)
            matrix[i] = pass.G[i] + rate * pass.C[i];
        if (!factors.Factor(matrix))
            throw new InvalidOperationException("a step that was made cannot be factored again");
        double[] multiplier = multipliers[stage];
        factors.SolveTransposed(bars[stage], multiplier); // of f + q/(hγ) = known
        double[] row = tableau.A[stage];
        for (int j = 0; j < stage; j++)
            if (row[j] != 0)
                AddScaled(weights[j], multiplier, row[j] / tableau.Gamma);
        AddScaled(weights[stage], multiplier, 1);
        AddScaled(chargeWeight, multiplier, rate);
        AddParameters(step.Stages[stage], time, weights[stage], multiplier, rate);
    }

    private void BackStart(TapedStep step)
    {
        Evaluate(step.Stages[0], step.Start);
        Pass pass = circuit.Pass;
        AddTransposed(pass.G, weights[0], bars[0], -1);
        AddTransposed(pass.C, chargeWeight, bars[0], 1);
        AddParameters(step.Stages[0], step.Start, weights[0], chargeWeight, -1);
    }

    private void Evaluate(double[] x, double time)
    {
        x.CopyTo(circuit.Pass.X, 0);
        circuit.Evaluate(time, Regime.Motion);
    }

    private void AddParameters(double[] x, double time, double[] ofF, double[] ofQ, double chargeFactor)
    {
        for (int p = 0; p < parameters.Length; p++)
        {
            slope.At(parameters[p].Part, parameters[p].Word, x, time, Regime.Motion);
            totals[p] -= slope.Project(ofF, ofQ, chargeFactor);
        }
        switches.AddShift(x, time, ofF, parameters, totals);
    }

    private void AddTransposed(double[] values, double[] left, double[] to, double factor)
    {
        int[] rows = circuit.Pattern.Rows;
        int[] columns = circuit.Pattern.Columns;
        for (int slot = 1; slot < values.Length; slot++)
            if (values[slot] != 0)
                to[columns[slot]] += factor * values[slot] * left[rows[slot]];
        to[0] = 0;
    }

    private static void AddScaled(double[] to, double[] from, double factor)
    {
        for (int i = 1; i < to.Length; i++)
            to[i] += factor * from[i];
    }
}
