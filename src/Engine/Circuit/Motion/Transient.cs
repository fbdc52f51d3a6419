namespace Consort.Engine.Circuit.Motion;

/// <summary>What one accepted step did.</summary>
public enum StepKind
{
    /// <summary>An ordinary step.</summary>
    Plain,
    /// <summary>It ended at an event or a corner.</summary>
    Landed,
}

/// <summary>A moment at which a probe was crossed.</summary>
public readonly record struct Crossing(int Probe, double Time);

/// <summary>
/// Follows a circuit in time: steps with local error control per state, landing on the corners of sources and on the
/// events of comparators, switches and probes.
/// </summary>
public sealed class Transient
{
    /// <summary>Events closer together than this are one event, s. It is a hundred-thousandth of a cent at 10 kHz; in
    /// shorter steps the charges' rounding over the step would show as noise in nets that carry no charge.</summary>
    internal const double Resolution = 1e-12;

    /// <summary>In steps as short as an event's landing the error estimate is rounding: they are taken as they are, s.</summary>
    internal const double Unquestioned = 4 * Resolution;

    private const double Safety = 0.85;
    private const double MostGrowth = 5;
    private const int MostTries = 60;

    private readonly Circuit circuit;
    private readonly StepMethod method;
    private readonly StepMaker maker;
    private readonly Watcher watcher;
    private readonly List<Crossing> crossings = [];
    private double next; // the step that the error control would take

    /// <summary>For one compiled circuit.</summary>
    public Transient(Circuit circuit, Accuracy accuracy, IReadOnlyList<Probe>? probes = null, StepMethod? method = null)
    {
        this.circuit = circuit;
        this.method = method ?? accuracy.Method;
        watcher = new(circuit, probes ?? []);
        maker = this.method.Maker(circuit, accuracy, watcher.Reads);
    }

    /// <summary>The method that it steps by.</summary>
    public StepMethod Method => method;

    /// <summary>The same of a run whose steps are stages of a tableau, as a tape keeps them.</summary>
    internal Tableau Tableau => (Tableau)method;

    /// <summary>Present time, s.</summary>
    public double Time { get; private set; }

    /// <summary>Present state. Valid until the next step.</summary>
    public double[] X => maker.From;

    /// <summary>Crossings of probes since the start.</summary>
    public IReadOnlyList<Crossing> Crossings => crossings;

    /// <summary>Accepted steps.</summary>
    public long Steps { get; private set; }

    /// <summary>Steps thrown away (error, convergence, landing).</summary>
    public long Rejected { get; private set; }

    /// <summary>Evaluations of the circuit: Newton passes, or stages of a method without Newton.</summary>
    public long Passes => maker.Passes;

    /// <summary>Keeps every accepted step, for sensitivities: those of a <see cref="Tableau"/>'s stages.</summary>
    internal Tape? Tape { get; set; }

    /// <summary>Steps of this length without error control, s; 0 for error control. Corners and events still end a step;
    /// between corners all steps are equal, so the length is rounded to a whole share of the way.</summary>
    public double FixedStep { get; set; }

    /// <summary>Called after every accepted step with time and state.</summary>
    public Action<double, double[]>? Accepted { get; set; }

    /// <summary>Called with the moment of everything that crosses its limit: comparators, switches, probes.</summary>
    internal Action<double>? Fired { get; set; }

    /// <summary>Begins at a state, usually the operating point.</summary>
    public void Start(double[] x, double time = 0, double firstStep = 1e-9)
    {
        Time = time;
        next = firstStep;
        crossings.Clear();
        maker.Start(x, time);
        watcher.Start(X, time);
    }

    /// <summary>Runs to a time; null when it got there.</summary>
    public SolveFailure? RunTo(double end)
    {
        while (Time < end)
            if (Step(end) is { } failure)
                return failure;
        return null;
    }

    /// <summary>One accepted step that does not pass the end; null on success.</summary>
    public SolveFailure? Step(double end)
    {
        if (end - Time <= Hair) // as after a corner that lies a rounding before the end
        {
            Time = Math.Max(Time, end);
            return null;
        }
        double corner = Math.Min(end, NextCorner());
        double h = Choose(corner);
        for (int count = 0; count < MostTries; count++)
        {
            if (h < LeastStep && h < corner - Time)
                return Failed("the step shrank to nothing");
            if (!maker.Make(Time, h))
            {
                Rejected++;
                maker.ForgetSlope();
                next = h /= 5;
                continue;
            }
            double error = FixedStep > 0 ? 0 : maker.LocalError();
            if (!(error <= 1) && h > Unquestioned)
            {
                Rejected++;
                next = h *= double.IsFinite(error) ? Math.Max(0.1, Safety * Math.Pow(error, -Exponent)) : 0.1;
                continue;
            }
            double whole = h;
            int watch = watcher.FirstCrossing(maker.To, Time + h, h, out double share);
            if (watch >= 0 && !Land(ref watch, ref h, share))
            {
                maker.ForgetSlope();
                next = h = whole / 5;
                continue;
            }
            Keep(h, error, corner, watch);
            return null;
        }
        return Failed("no step was small enough");
    }

    // A few units in the last place of the time, s.
    private double LeastStep => 4e-15 * Math.Max(Math.Abs(Time), 1e-6);

    // What lies nearer than this is here, s: no step is that short.
    private double Hair => Math.Max(LeastStep, 0.1 * Resolution);

    private double Exponent => 1.0 / (Math.Min(method.Order, method.EmbeddedOrder) + 1);

    private double NextCorner()
    {
        double corner = double.PositiveInfinity;
        double after = Time + Hair; // a corner that rounding put just ahead is already here
        foreach (PartBank bank in circuit.Banks)
            if (bank is ICornered cornered)
                corner = Math.Min(corner, cornered.NextCorner(after));
        return corner;
    }

    private double Choose(double corner)
    {
        double left = corner - Time;
        if (watcher.IsOverdue()) // two events at one moment: the second follows in the shortest step that time can hold
            return Math.Min(left, 2 * Resolution);
        if (FixedStep > 0)
            return left / Math.Max(1, Math.Round(left / FixedStep));
        double h = next;
        double foretold = watcher.Foretold();
        if (foretold < 1.05 * h)
            h = Math.Max(foretold, Resolution);
        if (h >= left)
            return left;
        return h > 0.6 * left ? 0.5 * left : h; // two even steps rather than a long and a sliver
    }

    private void Keep(double h, double error, double corner, int watch)
    {
        bool landed = watch >= 0 || Time + h >= corner;
        double reached = watch < 0 && Time + h >= corner ? corner : Time + h;
        Tape?.Record(Time, h, (StageMaker)maker, watch);
        maker.Begin(h);
        Time = reached;
        Steps++;
        watcher.Accept(X, Time, h);
        if (watch >= 0)
        {
            watcher.Fire(watch, X, Time);
            Fired?.Invoke(Time);
            if (watcher.IsProbe(watch))
                crossings.Add(new(watcher.ProbeOf(watch), Time));
        }
        Propose(h, error, landed, watch);
        Accepted?.Invoke(Time, X);
    }

    private void Propose(double h, double error, bool landed, int watch)
    {
        double growth = Safety * Math.Pow(Math.Max(error, 1e-6), -Exponent);
        double proposed = h * Math.Clamp(growth, 0.2, MostGrowth);
        if (growth >= MostGrowth)
            proposed = Math.Max(proposed, next); // it was short for another reason than its error
        if (!landed || (watch >= 0 && !watcher.Turns(watch, Time)))
        {
            next = proposed;
            return;
        }
        next = Math.Min(Math.Max(proposed, h), next); // what turns or breaks off bends the solution
        double ahead = NextCorner() - Time;
        if (ahead < 10 * next)
            next = Math.Min(next, ahead / 4);
        maker.ForgetSlope();
    }

    // Brings the end of the step to the first crossing: regula falsi on the step with the Illinois rule (Dowell and
    // Jarratt, BIT 11 (1971) 168), so that neither end of the bracket stays behind. False when a step on the way does not
    // converge.
    private bool Land(ref int watch, ref double h, double share)
    {
        double low = 0;
        double lowValue = watcher.Before(watch);
        double high = h;
        double highValue = watcher.Value(watch, maker.To, Time + h);
        double highWeight = highValue;
        int side = 0;
        for (int count = 0; count < 60 && highValue > Watcher.Close && high - low > Resolution; count++)
        {
            double guess = Math.Max(low + (high - low) * Math.Clamp(share, 1e-6, 1 - 1e-6), 0.5 * Resolution);
            Rejected++;
            if (!maker.Make(Time, guess))
                return false;
            int first = watcher.FirstCrossing(maker.To, Time + guess, guess, out _);
            if (first < 0)
            {
                low = guess;
                lowValue = watcher.Value(watch, maker.To, Time + guess);
                highWeight = side < 0 ? highWeight / 2 : highValue;
                side = -1;
            }
            else
            {
                if (first != watch)
                    (watch, lowValue, low, side) = (first, watcher.Before(first), 0, 0);
                high = guess;
                highValue = highWeight = watcher.Value(watch, maker.To, Time + guess);
                if (side > 0)
                    lowValue /= 2;
                side = 1;
            }
            share = lowValue < 0 ? lowValue / (lowValue - highWeight) : 0.5;
            h = guess;
        }
        if (h != high)
        {
            if (!maker.Make(Time, high))
                return false;
            h = high;
        }
        return true;
    }

    private SolveFailure Failed(string what)
    {
        (string unknown, double residual) = maker.Worst;
        return new(what, unknown, Time, residual);
    }
}
