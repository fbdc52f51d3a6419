namespace Consort.Bench.Comparison;

/// <summary>How the saw is to be solved.</summary>
/// <param name="Volts">Keyboard voltage, V.</param>
/// <param name="Tolerance">The solver's own relative tolerance.</param>
/// <param name="Warm">Cycles before the clock runs; the orbit has settled by then.</param>
/// <param name="Cycles">Cycles that are timed.</param>
/// <param name="Repeats">The fastest of so many runs counts: what else the machine does only ever adds.</param>
internal sealed record SawRequest(double Volts, double Tolerance, int Warm = 3, int Cycles = 3, int Repeats = 1);

/// <summary>What came of it.</summary>
/// <param name="Period">Of the last cycle, s.</param>
/// <param name="Seconds">Time of the processor per cycle, s.</param>
/// <param name="Evaluations">Of the equations, per cycle.</param>
internal sealed record SawRun(double Period, double Seconds, double Evaluations);

/// <summary>Something that solves the saw's equations.</summary>
internal interface ISawSolver
{
    /// <summary>Method and settings.</summary>
    string Name { get; }

    /// <summary>Tolerances to try, loosest first.</summary>
    IReadOnlyList<double> Tolerances { get; }

    /// <summary>Solves; null when it does not get through, as at a tolerance that is too loose.</summary>
    SawRun? Run(SawRequest request);
}
