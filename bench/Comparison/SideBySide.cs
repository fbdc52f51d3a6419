namespace Consort.Bench.Comparison;

/// <summary>
/// The same oscillator equations by our engine and by SciPy in one run: each tuned to the loosest tolerance that keeps the
/// period within the same error, then timed in turns.
/// </summary>
internal sealed class SideBySide(OurSaw ours, SciPy sciPy)
{
    /// <summary>Error of the period to which both are tuned, cents.</summary>
    private const double Within = 0.003;

    private const int Turns = 5;

    // Low, middle and high on the keyboard: some 66, 529 and 4226 Hz.
    private static readonly double[] Notes = [1, 4, 7];

    /// <summary>What one note showed.</summary>
    private sealed record Note(double Volts, double Period, double References, IReadOnlyList<Ladder> Ladders, IReadOnlyList<(ISawSolver Solver, Rung Rung, double Seconds)> Timed)
    {
        public double OurSeconds => Timed[0].Seconds;

        public double Ratio => Timed.Skip(1).Min(row => row.Seconds) / OurSeconds;
    }

    /// <summary>Runs and writes; false when a side cannot reach the error.</summary>
    public bool Run(Page ratios, Page details)
    {
        ISawSolver[] theirs = [new TheirSaw(sciPy, "LSODA", 1), new TheirSaw(sciPy, "LSODA", 0.01), new TheirSaw(sciPy, "Radau", 1)];
        List<Note> notes = [];
        foreach (double volts in Notes)
        {
            if (Study(volts, [ours, .. theirs]) is not { } note)
                return false;
            notes.Add(note);
        }
        WriteRatios(ratios, notes);
        WriteLadders(details, notes);
        return true;
    }

    private Note? Study(double volts, ISawSolver[] solvers)
    {
        SawRun? tightest = new TheirSaw(sciPy, "LSODA", 1).Run(new(volts, 3e-12, Warm: 4, Cycles: 1));
        SawRun? check = ours.Run(new(volts, 1e-7, Warm: 4, Cycles: 1));
        if (tightest is null || check is null)
            return null;
        Ladder[] ladders = [.. solvers.Select(solver => Ladder.Climb(solver, volts, tightest.Period))];
        Rung?[] rungs = [.. ladders.Select(ladder => ladder.LoosestWithin(Within))];
        if (rungs[0] is null || rungs.Skip(1).All(rung => rung is null))
            return null;
        double[] best = [.. rungs.Select(_ => double.PositiveInfinity)];
        for (int turn = 0; turn < Turns; turn++) // in turns: what else the machine does hits all alike
            for (int i = 0; i < solvers.Length; i++)
                if (rungs[i] is { } rung && solvers[i].Run(new(volts, rung.Tolerance, Cycles: i == 0 ? 20 : 5, Repeats: i == 0 ? 10 : 1)) is { } run)
                    best[i] = Math.Min(best[i], run.Seconds);
        IEnumerable<(ISawSolver, Rung, double)> timed = solvers.Select((solver, i) => (solver, rungs[i]!, best[i])).Where(row => row.Item2 is not null);
        return new(volts, tightest.Period, 1200 * Math.Log2(tightest.Period / check.Period), ladders, [.. timed]);
    }

    private void WriteRatios(Page page, IReadOnlyList<Note> notes)
    {
        page.Heading("The same equations by SciPy");
        page.Line($"Eight voltages and one latched decision (bench/Comparison/saw.yaml and saw.py); {sciPy.Versions}. Both sides keep the");
        page.Line($"period within {Within} cent at the stated tolerance and at every tighter one that was tried; fastest of {Turns} turns each. The ratio");
        page.Line("is SciPy's time over ours, with whichever of its methods was fastest.");
        page.Table(
            ["note", "ours", "SciPy's fastest", "ratio"],
            notes.Select(note => (IReadOnlyList<string>)[Name(note), $"{Figure.Time(note.OurSeconds)} a cycle", $"{Figure.Time(note.Ratio * note.OurSeconds)} a cycle", $"**{Figure.Digits(note.Ratio)}**"])
        );
        page.Table(
            ["note", "solver", "tolerance", "error, cents", "time a cycle", "times ours"],
            notes.SelectMany(note =>
                note.Timed.Select(row =>
                    (IReadOnlyList<string>)
                        [Name(note), row.Solver.Name, Figure.Tolerance(row.Rung.Tolerance), Figure.Cents(row.Rung.Cents), Figure.Time(row.Seconds), Figure.Digits(row.Seconds / note.OurSeconds)]
                )
            )
        );
    }

    private static void WriteLadders(Page page, IReadOnlyList<Note> notes)
    {
        page.Heading("Error and time over the tolerance");
        page.Line("Errors are against SciPy's LSODA at 3E-12; the two programs agree with each other, both tight, within " + Figure.Cents(notes.Max(note => Math.Abs(note.References))) + " cent.");
        page.Table(
            ["note", "solver", "tolerance", "error, cents", "time a cycle", "evaluations a cycle"],
            notes.SelectMany(note => note.Ladders.SelectMany(ladder => ladder.Rungs.Select(rung => Row(note, ladder.Solver, rung))))
        );
    }

    private static IReadOnlyList<string> Row(Note note, ISawSolver solver, Rung rung) =>
        rung.Run is { } run
            ? [Name(note), solver.Name, Figure.Tolerance(rung.Tolerance), Figure.Cents(rung.Cents), Figure.Time(run.Seconds), Figure.Digits(run.Evaluations)]
            : [Name(note), solver.Name, Figure.Tolerance(rung.Tolerance), "did not get through", "", ""];

    private static string Name(Note note) => $"{note.Volts} V, {Figure.Digits(1 / note.Period)} Hz";
}
