namespace Consort.Engine.Circuit.Rest;

/// <summary>Where a circuit rests.</summary>
/// <param name="X">All unknowns; X[0] is ground.</param>
/// <param name="Method">How it was found: plain Newton, or which help it needed.</param>
/// <param name="Passes">Newton passes in all.</param>
public sealed record RestState(double[] X, string Method, int Passes);

/// <summary>
/// The operating point: plain Newton with junctions and outputs held back; when that fails, the circuit made tame by
/// conductances across its junctions and lossy op amps, which go away in steps (gmin stepping); at last creeping to rest
/// in time, as the circuit itself would after power-up. Comparators and switches take states that fit in between.
/// </summary>
public sealed class OperatingPoint
{
    private const int MostPasses = 5000;

    // A plain start that helps at all does so soon, and without voltages that no supply could give.
    private const int FirstPasses = 25;
    private const double FirstLeap = 1e4;

    private const int PlainPasses = 60;
    private const int StepPasses = 20;
    private const int FewPasses = 5;

    private const double FirstGmin = 1e-5; // S
    private const double LeastGmin = 1e-12;
    private const double MostGmin = 10;

    private readonly Circuit circuit;
    private readonly RestNewton newton;
    private readonly SwitchStates switches;
    private int passes;

    /// <summary>For one compiled circuit.</summary>
    public OperatingPoint(Circuit circuit)
    {
        this.circuit = circuit;
        newton = new(circuit);
        switches = new(circuit);
    }

    /// <summary>Finds the operating point from a guess, or from a cold start.</summary>
    public (RestState? State, SolveFailure? Failure) Find(double[]? guess = null)
    {
        passes = 0;
        switches.Begin();
        newton.Begin();
        if (guess is null)
            circuit.ForgetSwitches();
        double[] x = guess is null ? new double[circuit.Length] : (double[])guess.Clone();
        string method = "";
        do
        {
            string? found = FindWithSwitchesHeld(ref x);
            if (found is null)
                return (null, NotFound());
            if (found.Length > method.Length)
                method = found;
            if (!switches.Settle(x))
                return (new(x, method, passes), null);
        } while (!switches.AreSpent && passes < MostPasses);
        return (null, Failed("the comparators find no state that lasts: give the timing capacitor 'starts at'"));
    }

    private string? FindWithSwitchesHeld(ref double[] x)
    {
        (string Name, Func<double[], bool> Try)[] ways =
        [
            ("Newton", Plain),
            ("gmin stepping", GminStepping),
            ("creeping to rest", Creep),
        ];
        foreach ((string name, Func<double[], bool> way) in ways)
        {
            double[] found = (double[])x.Clone();
            circuit.Forget();
            bool solved = way(found);
            circuit.Pass.Gmin = 0;
            if (!solved)
                continue;
            x = found;
            return name;
        }
        return null;
    }

    private bool Plain(double[] x) => Solve(x, FirstPasses, FirstLeap);

    // Down from the least conductance that tames the circuit. A step that takes few passes makes the next one longer; one
    // that fails is taken back and made shorter.
    private bool GminStepping(double[] x)
    {
        Array.Clear(x);
        double gmin = FirstGmin;
        while (!TryGmin(gmin, x, PlainPasses, double.PositiveInfinity))
            if ((gmin *= 10) > MostGmin)
                return false;
        double ratio = 10;
        while (gmin > LeastGmin)
        {
            if (ratio < 1.01 || passes > MostPasses)
                return false;
            double leap = 10 * newton.LargestVoltage(x) + 1;
            if (TryGmin(gmin / ratio, x, StepPasses, leap))
            {
                gmin /= ratio;
                ratio *= newton.Passes <= FewPasses ? 10 : 1;
            }
            else
                ratio = Math.Sqrt(ratio);
        }
        circuit.Pass.Gmin = 0;
        return Solve(x, PlainPasses, double.PositiveInfinity);
    }

    private bool TryGmin(double gmin, double[] x, int mostPasses, double leap)
    {
        double[] before = (double[])x.Clone();
        circuit.Pass.Gmin = gmin;
        bool solved = newton.Approach(x, mostPasses, leap);
        passes += newton.Passes;
        if (!solved)
        {
            before.CopyTo(x, 0);
            circuit.Forget();
        }
        return solved;
    }

    // What the circuit itself does after power-up, in steps of backward Euler that grow until nothing moves.
    private bool Creep(double[] x)
    {
        double h = 1e-8;
        double[] from = (double[])x.Clone();
        double[] charges = new double[x.Length];
        while (passes < MostPasses && h > 1e-16)
        {
            from.CopyTo(circuit.Pass.X, 0);
            circuit.Evaluate(0, Regime.Rest);
            circuit.Pass.Q.CopyTo(charges, 0);
            bool solved = newton.Creep(x, from, charges, h, StepPasses);
            passes += newton.Passes;
            if (!solved)
            {
                from.CopyTo(x, 0);
                circuit.Forget();
                h /= 8;
                continue;
            }
            if (h > 1e3)
                return Solve(x, PlainPasses, double.PositiveInfinity);
            x.CopyTo(from, 0);
            h *= newton.Passes <= FewPasses ? 10 : 3;
        }
        return false;
    }

    private bool Solve(double[] x, int mostPasses, double leap)
    {
        bool solved = newton.Solve(x, mostPasses, leap);
        passes += newton.Passes;
        return solved;
    }

    private SolveFailure NotFound()
    {
        int open = newton.OpenUnknown();
        if (open == 0)
            return Failed($"no operating point in {passes} passes");
        string what =
            circuit.Unknowns[open].Kind == UnknownKind.Voltage
                ? "nothing sets a voltage: no path for direct current leads there"
                : "nothing sets a current: voltages stand in parallel without a resistance";
        return new(what, circuit.Unknowns[open].Name, 0, newton.Residual(open));
    }

    private SolveFailure Failed(string what)
    {
        (double size, int row) = newton.Worst();
        return new(what, circuit.Unknowns[row].Name, 0, size);
    }
}
