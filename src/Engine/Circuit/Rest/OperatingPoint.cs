namespace Consort.Engine.Circuit.Rest;

/// <summary>Where a circuit rests.</summary>
/// <param name="X">All unknowns; X[0] is ground.</param>
/// <param name="Method">How it was found: plain Newton, or which help it needed.</param>
/// <param name="Passes">Newton passes in all.</param>
public sealed record RestState(double[] X, string Method, int Passes);

/// <summary>
/// The operating point: plain Newton with junction limiting; when that fails, damped, then gmin stepping, source
/// stepping, and at last creeping to rest in time as the circuit itself would after power-up.
/// </summary>
public sealed class OperatingPoint
{
    private const int PlainPasses = 60;
    private const int MostFlips = 40;

    private readonly Circuit circuit;
    private readonly RestNewton newton;
    private int passes;

    /// <summary>For one compiled circuit.</summary>
    public OperatingPoint(Circuit circuit)
    {
        this.circuit = circuit;
        newton = new(circuit);
    }

    /// <summary>Finds the operating point from a guess, or from a cold start.</summary>
    public (RestState? State, SolveFailure? Failure) Find(double[]? guess = null)
    {
        passes = 0;
        if (guess is null)
            circuit.ForgetSwitches();
        double[] x = guess is null ? new double[circuit.Length] : (double[])guess.Clone();
        string method = "";
        for (int flip = 0; flip < MostFlips; flip++)
        {
            string? found = FindWithSwitchesHeld(ref x);
            if (found is null)
                return (null, Failed("the operating point did not converge"));
            if (found.Length > method.Length)
                method = found;
            if (!SettleSwitches(x))
                return (new(x, method, passes), null);
        }
        return (null, Failed("the comparators find no state that lasts: give the timing capacitor 'starts at'"));
    }

    private bool SettleSwitches(double[] x)
    {
        bool changed = false;
        foreach (PartBank bank in circuit.Banks)
            if (bank is ISwitching switching)
                changed |= switching.Settle(x);
        return changed;
    }

    private string? FindWithSwitchesHeld(ref double[] x)
    {
        (string Name, Func<double[], double[]?> Try)[] ways =
        [
            ("Newton", Plain),
            ("gmin stepping", GminStepping),
            ("Newton with bounded moves", Damped),
            ("creeping to rest", Creep),
            ("source stepping", SourceStepping),
        ];
        foreach ((string name, Func<double[], double[]?> way) in ways)
        {
            circuit.Forget();
            double[]? found = way((double[])x.Clone());
            circuit.Pass.Gmin = 0;
            circuit.Pass.SourceScale = 1;
            if (found is null)
                continue;
            x = found;
            return name;
        }
        return null;
    }

    private double[]? Plain(double[] x) => Solve(x, PlainPasses) ? x : null;

    private double[]? Damped(double[] x) => Solve(x, 400, largestMove: 1) ? x : null;

    private double[]? GminStepping(double[] x)
    {
        Array.Clear(x);
        double gmin = 1e-2;
        double ratio = 10;
        double[] good = (double[])x.Clone();
        circuit.Pass.Gmin = gmin;
        if (!Solve(x, PlainPasses))
            return null;
        while (gmin > 1e-13 && ratio > 1.01)
        {
            x.CopyTo(good, 0);
            circuit.Pass.Gmin = gmin / ratio;
            if (Solve(x, PlainPasses))
            {
                gmin /= ratio;
                ratio = Math.Min(ratio * 1.5, 100);
                continue;
            }
            good.CopyTo(x, 0);
            ratio = Math.Sqrt(ratio);
        }
        circuit.Pass.Gmin = 0;
        return Solve(x, PlainPasses) ? x : null;
    }

    private double[]? SourceStepping(double[] x)
    {
        Array.Clear(x);
        double scale = 0;
        double move = 0.05;
        double[] good = (double[])x.Clone();
        while (scale < 1 && move > 1e-6)
        {
            double next = Math.Min(1, scale + move);
            circuit.Pass.SourceScale = next;
            if (Solve(x, PlainPasses))
            {
                scale = next;
                x.CopyTo(good, 0);
                move *= 1.5;
                continue;
            }
            good.CopyTo(x, 0);
            circuit.Forget();
            move /= 4;
        }
        return scale >= 1 ? x : null;
    }

    // What the circuit itself does after power-up, in steps of backward Euler that grow until nothing moves.
    private double[]? Creep(double[] x)
    {
        double h = 1e-9;
        double[] from = (double[])x.Clone();
        double[] charges = new double[x.Length];
        for (int step = 0; step < 3000 && h > 1e-16; step++)
        {
            from.CopyTo(circuit.Pass.X, 0);
            circuit.Evaluate(0, Regime.Rest);
            circuit.Pass.Q.CopyTo(charges, 0);
            bool solved = newton.Creep(x, from, charges, h, 25);
            passes += newton.Passes;
            if (!solved)
            {
                from.CopyTo(x, 0);
                circuit.Forget();
                h /= 8;
                continue;
            }
            x.CopyTo(from, 0);
            h *= newton.Passes < 12 ? 3 : 1.5;
            if (h > 1e3 && Solve(x, PlainPasses))
                return x;
            if (h > 1e9)
                return null;
        }
        return null;
    }

    private bool Solve(double[] x, int mostPasses, double largestMove = double.PositiveInfinity)
    {
        bool solved = newton.Solve(x, mostPasses, largestMove);
        passes += newton.Passes;
        return solved;
    }

    private SolveFailure Failed(string what)
    {
        (double size, int row) = newton.Worst();
        return new(what, circuit.Unknowns[row].Name, 0, size);
    }
}
