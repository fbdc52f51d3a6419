namespace Consort.Bench.Comparison;

/// <summary>One tolerance that was tried: what it gave, and how far the period is from the reference, cents.</summary>
internal sealed record Rung(double Tolerance, SawRun? Run, double Cents);

/// <summary>A solver's error and time over its tolerances.</summary>
/// <param name="Solver">Whose.</param>
/// <param name="Rungs">Loosest first.</param>
internal sealed record Ladder(ISawSolver Solver, IReadOnlyList<Rung> Rungs)
{
    /// <summary>Quarters of a decade from one tolerance down to another.</summary>
    public static IReadOnlyList<double> Between(double loosest, double tightest) =>
        [.. Enumerable.Range(0, 1 + (int)Math.Round(4 * Math.Log10(loosest / tightest))).Select(i => loosest * Math.Pow(10, -0.25 * i))];

    /// <summary>Tries every tolerance at a note against a period that is known far better.</summary>
    public static Ladder Climb(ISawSolver solver, double volts, double period) =>
        new(solver, [.. solver.Tolerances.Select(tolerance => Try(solver, volts, tolerance, period))]);

    /// <summary>The loosest tolerance that keeps within a limit together with all tighter ones: one that is good by luck
    /// does not count. Null when even the tightest misses.</summary>
    public Rung? LoosestWithin(double cents)
    {
        Rung? found = null;
        foreach (Rung rung in Rungs.Reverse())
        {
            if (!(Math.Abs(rung.Cents) <= cents))
                break;
            found = rung;
        }
        return found;
    }

    private static Rung Try(ISawSolver solver, double volts, double tolerance, double period)
    {
        SawRun? run = solver.Run(new(volts, tolerance));
        return new(tolerance, run, run is null ? double.NaN : 1200 * Math.Log2(period / run.Period));
    }
}
