namespace Consort.Bench.Comparison;

/// <summary>
/// The same oscillator equations by our engine and by SciPy in one run: each tuned to the loosest tolerance that keeps the
/// period within the same error, then timed in turns.
/// </summary>
internal sealed class SideBySide(IReadOnlyList<OurSaw> ours, SciPy sciPy)
{
    private const int Turns = 5;

    /// <summary>Errors of the period to which both are tuned, cents: what the engine promises for a pitch, and less.</summary>
    private static readonly double[] Targets = [0.01, 0.003, 0.001];

    // Low, middle and high on the keyboard: some 66, 529 and 4226 Hz.
    private static readonly double[] Notes = [1, 4, 7];

    /// <summary>A solver at a tolerance, and its best time per cycle, s.</summary>
    private sealed record Timed(ISawSolver Solver, Rung Rung, double Seconds);

    /// <summary>Both sides within one error; the fastest way of each counts.</summary>
    private sealed record Match(double Within, IReadOnlyList<Timed> Ours, IReadOnlyList<Timed> Theirs)
    {
        public Timed Own { get; } = Ours.MinBy(timed => timed.Seconds)!;

        public Timed Fastest { get; } = Theirs.MinBy(timed => timed.Seconds)!;

        public double Ratio => Fastest.Seconds / Own.Seconds;
    }

    /// <summary>What one note showed. The references differ by so many cents.</summary>
    private sealed record Note(double Volts, double Period, double ReferenceCents, IReadOnlyList<Ladder> Ladders, IReadOnlyList<Match> Matches)
    {
        public string Name => $"{Volts} V, {Figure.Digits(1 / Period)} Hz";
    }

    /// <summary>Runs and writes; false when a side cannot reach an error.</summary>
    public bool Run(Page ratios, Page details)
    {
        ISawSolver[] theirs = [new TheirSaw(sciPy, "LSODA", 1), new TheirSaw(sciPy, "LSODA", 0.01), new TheirSaw(sciPy, "Radau", 1)];
        List<Note> notes = [];
        foreach (double volts in Notes)
        {
            if (Study(volts, theirs) is not { } note)
                return false;
            notes.Add(note);
        }
        WriteRatios(ratios, notes);
        WriteMatches(details, notes);
        WriteLadders(details, notes);
        return true;
    }

    private Note? Study(double volts, ISawSolver[] theirs)
    {
        SawRun? tightest = new TheirSaw(sciPy, "LSODA", 1).Run(new(volts, 3e-12, Warm: 4, Cycles: 1));
        SawRun? check = ours[0].Run(new(volts, 1e-7, Warm: 4, Cycles: 1));
        if (tightest is null || check is null)
            return null;
        Ladder[] mine = [.. ours.Select(solver => Ladder.Climb(solver, volts, tightest.Period))];
        Ladder[] others = [.. theirs.Select(solver => Ladder.Climb(solver, volts, tightest.Period))];
        Match?[] matches = [.. Targets.Select(within => At(volts, within, mine, others))];
        return Array.Exists(matches, match => match is null)
            ? null
            : new(volts, tightest.Period, 1200 * Math.Log2(tightest.Period / check.Period), [.. mine, .. others], [.. matches.Select(match => match!)]);
    }

    private static Match? At(double volts, double within, Ladder[] mine, Ladder[] others)
    {
        Timed[] own = Able(mine, within), their = Able(others, within);
        if (own.Length == 0 || their.Length == 0)
            return null;
        for (int turn = 0; turn < Turns; turn++) // in turns: what else the machine does hits all alike
        {
            for (int i = 0; i < own.Length; i++)
                own[i] = Again(own[i], new(volts, own[i].Rung.Tolerance, Cycles: 50, Repeats: 3));
            for (int i = 0; i < their.Length; i++)
                their[i] = Again(their[i], new(volts, their[i].Rung.Tolerance, Cycles: 5));
        }
        return new(within, own, their);
    }

    private static Timed[] Able(Ladder[] ladders, double within) =>
        [
            .. from ladder in ladders
               let rung = ladder.LoosestWithin(within)
               where rung is not null
               select new Timed(ladder.Solver, rung, double.PositiveInfinity),
        ];

    private static Timed Again(Timed timed, SawRequest request) =>
        timed.Solver.Run(request) is { } run ? timed with { Seconds = Math.Min(timed.Seconds, run.Seconds) } : timed;

    private void WriteRatios(Page page, IReadOnlyList<Note> notes)
    {
        page.Heading("The same equations by SciPy");
        page.Line($"Eight voltages and one latched decision (bench/Comparison/saw.yaml and saw.py); {sciPy.Versions}. Both sides keep the");
        page.Line("period within the stated error; time of the processor per cycle. The ratio is SciPy's time over ours, with whichever way of");
        page.Line("each was fastest: what decides a moment held as the rest or tighter (SciPy), tighter or tighter still (ours).");
        page.Table(
            ["note", "period within", "ours", "by", "SciPy's fastest", "by", "ratio"],
            notes.SelectMany(note =>
                note.Matches.Select(match =>
                    (IReadOnlyList<string>)
                        [note.Name, $"{match.Within} cent", Figure.Time(match.Own.Seconds), match.Own.Solver.Name, Figure.Time(match.Fastest.Seconds), match.Fastest.Solver.Name, $"**{Figure.Digits(match.Ratio)}**"]
                )
            )
        );
    }

    private static void WriteMatches(Page page, IReadOnlyList<Note> notes)
    {
        page.Heading("Side by side, method by method");
        page.Line($"At the loosest tolerance that keeps within the error together with all tighter ones; fastest of {Turns} turns.");
        page.Table(
            ["note", "period within", "solver", "tolerance", "error, cents", "time a cycle", "times ours"],
            notes.SelectMany(note => note.Matches.SelectMany(match => match.Ours.Concat(match.Theirs).Select(timed => Row(note, match, timed))))
        );
    }

    private static IReadOnlyList<string> Row(Note note, Match match, Timed timed) =>
        [note.Name, $"{match.Within} cent", timed.Solver.Name, Figure.Tolerance(timed.Rung.Tolerance), Figure.Cents(timed.Rung.Cents), Figure.Time(timed.Seconds), Figure.Digits(timed.Seconds / match.Own.Seconds)];

    private static void WriteLadders(Page page, IReadOnlyList<Note> notes)
    {
        page.Heading("Error and time over the tolerance");
        page.Line($"Errors are against SciPy's LSODA at 3E-12; the two programs agree with each other, both tight, within {Figure.Cents(notes.Max(note => Math.Abs(note.ReferenceCents)))} cent.");
        page.Line("Evaluations of the equations: ours are Newton passes, each with its matrix.");
        page.Table(
            ["note", "solver", "tolerance", "error, cents", "time a cycle", "evaluations a cycle"],
            notes.SelectMany(note => note.Ladders.SelectMany(ladder => ladder.Rungs.Select(rung => Row(note, ladder.Solver, rung))))
        );
    }

    private static IReadOnlyList<string> Row(Note note, ISawSolver solver, Rung rung) =>
        rung.Run is { } run
            ? [note.Name, solver.Name, Figure.Tolerance(rung.Tolerance), Figure.Cents(rung.Cents), Figure.Time(run.Seconds), Figure.Digits(run.Evaluations)]
            : [note.Name, solver.Name, Figure.Tolerance(rung.Tolerance), "did not get through", "", ""];
}
