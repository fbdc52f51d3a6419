using Consort.Engine.Circuit;
using Consort.Engine.Circuit.Motion;
using Consort.Engine.Circuit.Signal;

namespace Consort.Engine.Pitch.Locking;

/// <summary>
/// How an oscillator's period answers to a small current out of a net, by the phase at which it flows: the perturbation
/// projection vector of Demir, Mehrotra and Roychowdhury (IEEE Trans. CAS-I 47 (2000) 655) and the phase response curve of
/// Winfree's oscillators, read off the discrete adjoint of the very steps that a period was made of.
/// </summary>
internal sealed class PhaseResponse
{
    // Periods that are taped, of which the last is read: more where the adjoint has not forgotten by their beginning, as in a resonance.
    private static readonly int[] Cycles = [1, 8];
    private const double Forgotten = 1e-5;

    private readonly PhaseGrid[] grids;
    private readonly Lazy<TurnWave[]> waves;

    private readonly (double Time, double[] Volts)[] course; // of the rows over the period

    private PhaseResponse(TapedPeriods taped, IReadOnlyList<int> rows, int cells)
    {
        (Period, Start) = (taped.Period, taped.Start);
        course = [.. taped.Run.Tape!.Steps[taped.Steps[^2]..(taped.Steps[^1] + 1)].Select(step => (step.End, rows.Select(row => step.Stages[^1][row]).ToArray()))];
        grids = [.. rows.Select(_ => new PhaseGrid(cells))];
        waves = new(() => [.. grids.Select(grid => new TurnWave(grid.Cells))]);
    }

    /// <summary>The period, s.</summary>
    public double Period { get; }

    /// <summary>When the period that was read began in the run, s.</summary>
    public double Start { get; }

    /// <summary>What the adjoint lost, as a share.</summary>
    public double Truncation { get; private set; }

    /// <summary>By cell: the share by which the period grows for one unit out of that row while the phase is in the cell.</summary>
    public double[] ByRow(int row) => grids[row].Cells;

    /// <summary>The same, for many pairs.</summary>
    public TurnWave WaveOf(int row) => waves.Value[row];

    /// <summary>By cell, of so many in the period: how far a row stands on the mean from where it stood at the start.</summary>
    public double[] Wave(int row, int cells)
    {
        PhaseGrid grid = new(cells);
        foreach (((double from, double[] before), (double to, double[] after)) in course.Zip(course.Skip(1)))
            grid.Spread((from - Start) / Period, (to - from) / Period, (0.5 * (before[row] + after[row]) - course[0].Volts[row]) * (to - from));
        return [.. grid.Cells.Select(area => area * cells / Period)];
    }

    /// <summary>Reads it for rows of a circuit.</summary>
    /// <param name="circuit">The circuit.</param>
    /// <param name="settled">Its run, whose method is one of stages.</param>
    /// <param name="probe">Where its period is counted.</param>
    /// <param name="rows">Which rows.</param>
    /// <param name="cells">In so many cells of a turn.</param>
    public static (PhaseResponse? Response, SolveFailure? Failure) Read(Engine.Circuit.Circuit circuit, RunIn settled, Probe probe, IReadOnlyList<int> rows, int cells)
    {
        Transient run = settled.Run;
        run.Tape = new(circuit);
        ForetoldSteps limit = new(settled);
        double end = run.Time + PlayedVoice.MostPeriods * settled.Period;
        IReadOnlyList<int> ends = [];
        PhaseResponse? response = null;
        foreach (int cycles in Cycles)
        {
            (TapedPeriods? taped, SolveFailure? failure) = TapedPeriods.GoOn(run, ends, cycles, end, limit.Longest);
            if (taped is null)
                return (null, failure);
            ends = taped.Steps;
            response = new(taped, rows, cells);
            if (response.Sweep(circuit, taped, probe, rows) < Forgotten)
                break;
        }
        return (response, null);
    }

    // Gives what was left of the adjoint where the tape begins.
    private double Sweep(Engine.Circuit.Circuit circuit, TapedPeriods taped, Probe probe, IReadOnlyList<int> rows)
    {
        MomentWeight moment = new(taped.Run.Tableau);
        OrbitSensitivity orbit = new(circuit, taped.Run.Tableau, [probe], [])
        {
            Swept = (step, weights) => Take(step, weights, rows, moment),
        };
        orbit.OfInterval(taped.Run.Tape!, taped.Steps[^2], taped.Steps[^1]);
        Truncation = Math.Max(orbit.Truncation, orbit.PhaseError);
        return orbit.Truncation;
    }

    // A step that ended on an event has its moment decided by the state there and then: that part of its weight stands at its
    // end, the rest is spread over it.
    private void Take(TapedStep step, double[][] weights, IReadOnlyList<int> rows, MomentWeight moment)
    {
        double from = (step.Start - Start) / Period;
        for (int i = 0; i < rows.Count; i++)
        {
            double all = 0;
            foreach (double[] weight in weights)
                all += weight[rows[i]];
            double last = weights[^1][rows[i]];
            double sharp = moment.Of(step, all, last);
            grids[i].Spread(from, step.Length / Period, -(all - sharp) / Period);
            if (sharp != 0)
                grids[i].Drop(from + step.Length / Period, -sharp / Period);
        }
    }
}
