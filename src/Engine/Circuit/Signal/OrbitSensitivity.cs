using System.Diagnostics.CodeAnalysis;
using Consort.Engine.Circuit.Linear;
using Consort.Engine.Circuit.Motion;

namespace Consort.Engine.Circuit.Signal;

/// <summary>One parameter of one part.</summary>
public readonly record struct ParameterPlace(PartPlace Part, string Word)
{
    /// <summary>In place of a parameter's word: the temperature of that part alone, K.</summary>
    public const string OwnTemperature = "own temperature";

    /// <summary>As <c>lead/R3 value</c>.</summary>
    public override string ToString() => $"{Part.Bank.Parts[Part.Index].Name} {Word}";
}

/// <summary>
/// How the time between two crossings answers to every parameter: the derivative of the steps that were made, by one
/// sweep backwards over them (the discrete adjoint of a Runge-Kutta method: Sandu, Computational Science, ICCS 2006,
/// LNCS 3994, 550). The mesh moves with the run's events: a step keeps its length, unless it ended on an event, whose
/// moment shifts by δt = −(wₓ·δx + w_p·δp)/ẇ, or on a ramp's corner, which follows the event behind it. So no ramp slides
/// over the mesh, and the sweep is as exact as the steps are.
/// </summary>
internal sealed class OrbitSensitivity
{
    // A share of the adjoint's largest size that changes nothing: what came before is not swept over.
    private const double Forgotten = 1e-7;

    private readonly Circuit circuit;
    private readonly Tableau tableau;
    private readonly Watcher watcher;
    private readonly ParameterPlace[] parameters;
    private readonly ParameterProjection projection;
    private readonly double[] matrix;
    private readonly double[] totals;
    private readonly double[][] weights; // of f at each stage
    private readonly double[][] bars;
    private readonly double[] multiplier;
    private readonly double[] chargeWeight;
    private readonly SwitchMoves switches;
    private LuFactors<double> factors;
    private Creep creep;
    private Tape tape;

    // The adjoint of the mesh's own time: what J gains when everything from here on happens a second later.
    private double timeBar;

    public OrbitSensitivity(
        Circuit circuit,
        Tableau tableau,
        IReadOnlyList<Probe> probes,
        IReadOnlyList<ParameterPlace> parameters
    )
    {
        (this.circuit, this.tableau) = (circuit, tableau);
        this.parameters = [.. parameters];
        watcher = new(circuit, probes);
        projection = new(circuit, this.parameters);
        matrix = new double[circuit.Pattern.Slots];
        totals = new double[this.parameters.Length];
        ByCurrent = new double[circuit.Length];
        weights = MakeStages();
        bars = MakeStages();
        (multiplier, chargeWeight) = (new double[circuit.Length], new double[circuit.Length]);
        switches = new(circuit, watcher);
        Begin(new(circuit));
    }

    [MemberNotNull(nameof(tape), nameof(factors), nameof(creep))]
    private void Begin(Tape run)
    {
        tape = run;
        LuProgram program = circuit.MotionProgram ?? throw new InvalidOperationException("no run was made");
        if (factors is null || creep is null || !ReferenceEquals(factors.Program, program))
            creep = new(circuit, factors = new(program));
    }

    private double[][] MakeStages() => [.. Enumerable.Range(0, tableau.Stages).Select(_ => new double[circuit.Length])];

    /// <summary>What was left of the adjoint where the sweep ended, as a share of its largest size: how far the run had
    /// forgotten its beginning.</summary>
    public double Truncation { get; private set; }

    /// <summary>How much of its phase the adjoint lost or gained in one period, as a share: a state that is moved along its
    /// own orbit by δ, in a mesh that is moved back by δ, reaches the last crossing when it did, so λ·ẋ and the adjoint of
    /// time cancel at every moment.</summary>
    public double PhaseError { get; private set; }

    /// <summary>d(t_last − t_first)/d(f of a row) for every row of the last sweep: for a net, what a steady ampere out of it
    /// does, s/A.</summary>
    public double[] ByCurrent { get; }

    /// <summary>Called for every step that is swept over with the weights of f at its stages: what a change of f there takes
    /// off t_last − t_first. Valid until the next step.</summary>
    internal Action<TapedStep, double[][]>? Swept { get; set; }

    /// <summary>d(t_last − t_first)/dp for every parameter, s per SI unit; the crossings by their step on the tape of a run
    /// of this circuit, whose parameters and temperature are those of the first sweep.</summary>
    public double[] OfInterval(Tape run, int firstStep, int lastStep)
    {
        Begin(run);
        Array.Clear(totals);
        Array.Clear(ByCurrent);
        projection.Clear();
        switches.Clear();
        Array.Clear(bars[^1]);
        timeBar = 0;
        PhaseError = 0;
        double largest = 0;
        // Looked at where the run is slowest: in a reset the sum would be a difference of large numbers.
        int quiet = Longest(firstStep + 1, lastStep);
        int quietBefore = Longest(0, firstStep);
        for (int index = lastStep; index >= 0; index--)
        {
            TapedStep step = tape.Steps[index];
            tape.Restore(step);
            if (index == lastStep)
                timeBar += 1;
            if (index == firstStep)
                timeBar -= 1;
            if (index == quiet || index == quietBefore)
                PhaseError = Math.Max(PhaseError, Math.Abs(Along(index, StepAt(index)) + timeBar));
            if (step.Watch >= 0)
                MoveWithEvent(index);
            else if (switches.CornerAt(step.End) is { } corner)
                MoveWithCorner(index, corner);
            Back(step);
            double size = Size(bars[^1]);
            largest = Math.Max(largest, size);
            Truncation = largest > 0 ? size / largest : 0;
            if (index < firstStep && Truncation < Forgotten)
                break;
        }
        projection.TakeFrom(totals, tape);
        return (double[])totals.Clone();
    }

    private int Longest(int from, int end)
    {
        int longest = from;
        for (int index = from; index < end; index++)
            if (tape.Steps[index].Length > tape.Steps[longest].Length)
                longest = index;
        return longest;
    }

    private static double Size(double[] bar)
    {
        double size = 0;
        foreach (double value in bar)
            size = Math.Max(size, Math.Abs(value));
        return size;
    }

    // The longer of the steps before and after the end of a step: a landing may be as short as can be.
    private double StepAt(int index) =>
        Math.Max(tape.Steps[index].Length, index + 1 < tape.Steps.Count ? tape.Steps[index + 1].Length : 0);

    // The step after the end of a step: where a ramp begins, the one before says nothing of how soon it bends.
    private double StepAfter(int index) => tape.Steps[Math.Min(index + 1, tape.Steps.Count - 1)].Length;

    // λ·ẋ where a step ends.
    private double Along(int index, double near)
    {
        TapedStep step = tape.Steps[index];
        double[] rate = creep.Rate(step.Stages[^1], step.End, near);
        double sum = 0;
        for (int i = 1; i < rate.Length; i++)
            sum += bars[^1][i] * rate[i];
        return sum;
    }

    // The step's length follows the moment at which its watch crosses, and all that comes later moves along.
    private void MoveWithEvent(int index)
    {
        TapedStep step = tape.Steps[index];
        int watch = step.Watch;
        timeBar += switches.TakeCause(step);
        double[] x = step.Stages[^1];
        double[] gradient = switches.Gradient(watch, x, step.End);
        double[] rate = creep.Rate(x, step.End, StepAt(index));
        double watchRate = watcher.Rate(watch, gradient, rate, x, step.End);
        double perLength = timeBar;
        for (int i = 1; i < rate.Length; i++)
            perLength += bars[^1][i] * rate[i];
        double scale = -perLength / watchRate;
        for (int i = 1; i < gradient.Length; i++)
            bars[^1][i] += scale * gradient[i];
        for (int p = 0; p < parameters.Length; p++)
            totals[p] += scale * switches.ParameterGradient(watch, parameters[p], x, step.End);
    }

    // The step ends where a ramp begins or ends: that moment belongs to the ramp's cause, delay and duration.
    private void MoveWithCorner(int index, RampCorner corner)
    {
        double perLength = timeBar + Along(index, StepAfter(index));
        timeBar -= perLength;
        switches.Owe(corner.Bank, corner.Part, corner.Cause, perLength);
        for (int p = 0; p < parameters.Length; p++)
            if (parameters[p].Part == new PartPlace(corner.Bank, corner.Part))
                totals[p] += corner.ShareOf(parameters[p].Word) * perLength;
    }

    // One step backwards: bars[^1] holds the adjoint of the step's end and then of its start.
    private void Back(TapedStep step)
    {
        double rate = 1 / (step.Length * tableau.Gamma);
        for (int stage = 0; stage < tableau.Stages - 1; stage++)
            Array.Clear(bars[stage]);
        Array.Clear(chargeWeight);
        foreach (double[] weight in weights)
            Array.Clear(weight);
        for (int stage = tableau.Stages - 1; stage >= 1; stage--)
            BackStage(step, stage, rate);
        BackStart(step);
        Swept?.Invoke(step, weights);
        (bars[0], bars[^1]) = (bars[^1], bars[0]);
    }

    private void BackStage(TapedStep step, int stage, double rate)
    {
        double time = step.Start + tableau.C[stage] * step.Length;
        Evaluate(step.Stages[stage], time);
        Pass pass = circuit.Pass;
        AddTransposed(pass.G, weights[stage], bars[stage], -1); // from the stages after this one
        for (int i = 1; i < matrix.Length; i++)
            matrix[i] = pass.G[i] + rate * pass.C[i];
        if (!factors.Factor(matrix))
            throw new InvalidOperationException("a step that was made cannot be factored again");
        factors.SolveTransposed(bars[stage], multiplier); // of f + q/(hγ) = known
        double[] row = tableau.A[stage];
        for (int j = 0; j < stage; j++)
            Columns.AddScaled(weights[j], multiplier, row[j] / tableau.Gamma);
        Columns.AddScaled(weights[stage], multiplier, 1);
        Columns.AddScaled(chargeWeight, multiplier, rate);
        AddParameters(step, stage, time, multiplier, rate);
    }

    private void BackStart(TapedStep step)
    {
        Evaluate(step.Stages[0], step.Start);
        Pass pass = circuit.Pass;
        AddTransposed(pass.G, weights[0], bars[0], -1);
        AddTransposed(pass.C, chargeWeight, bars[0], 1);
        AddParameters(step, 0, step.Start, chargeWeight, -1);
    }

    private void Evaluate(double[] x, double time)
    {
        x.CopyTo(circuit.Pass.X, 0);
        circuit.Evaluate(time, Regime.Motion);
    }

    private void AddParameters(TapedStep step, int stage, double time, double[] ofQ, double chargeFactor)
    {
        projection.Add(step, step.Stages[stage], time, weights[stage], ofQ, chargeFactor);
        timeBar += switches.AddShift(step.Stages[stage], time, weights[stage], parameters, totals);
        Columns.AddScaled(ByCurrent, weights[stage], -1);
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
}
