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
    // Periods before the one that is read: the run has then forgotten where it began.
    private const int Cycles = 3;

    private readonly PhaseGrid[] grids;

    private readonly (double Time, double[] Volts)[] course; // of the rows over the period

    private PhaseResponse(TapedPeriods taped, IReadOnlyList<int> rows, int cells)
    {
        (Period, Start) = (taped.Period, taped.Start);
        course = [.. taped.Run.Tape!.Steps[taped.Steps[^2]..(taped.Steps[^1] + 1)].Select(step => (step.End, rows.Select(row => step.Stages[^1][row]).ToArray()))];
        grids = [.. rows.Select(_ => new PhaseGrid(cells))];
    }

    /// <summary>The period, s.</summary>
    public double Period { get; }

    /// <summary>When the period that was read began in the run, s.</summary>
    public double Start { get; }

    /// <summary>What the adjoint lost, as a share.</summary>
    public double Truncation { get; private set; }

    /// <summary>By cell: the share by which the period grows for one unit out of that row while the phase is in the cell.</summary>
    public double[] ByRow(int row) => grids[row].Cells;

    /// <summary>By cell, of so many in the period: how far a row stands on the mean from where it stood at the start.</summary>
    public double[] Wave(int row, int cells)
    {
        PhaseGrid grid = new(cells);
        foreach (((double from, double[] before), (double to, double[] after)) in course.Zip(course.Skip(1)))
            grid.Spread((from - Start) / Period, (to - from) / Period, (0.5 * (before[row] + after[row]) - course[0].Volts[row]) * (to - from));
        return [.. grid.Cells.Select(area => area * cells / Period)];
    }

    /// <summary>Reads it for rows of a circuit whose run starts at x.</summary>
    /// <param name="ideal">About how long a period takes, s.</param>
    public static (PhaseResponse? Response, SolveFailure? Failure) Read(
        Engine.Circuit.Circuit circuit,
        Transient run,
        Probe probe,
        double[] x,
        IReadOnlyList<int> rows,
        int cells,
        double ideal
    )
    {
        (TapedPeriods? taped, SolveFailure? failure) = TapedPeriods.Follow(circuit, run, x, Cycles, PlayedVoice.MostPeriods * ideal, new StepLimit(ideal).Longest);
        if (taped is null)
            return (null, failure);
        PhaseResponse response = new(taped, rows, cells);
        MomentWeight moment = new(run.Tableau);
        OrbitSensitivity orbit = new(circuit, run.Tableau, [probe], [])
        {
            Swept = (step, weights) => response.Take(step, weights, rows, moment),
        };
        orbit.OfInterval(run.Tape!, taped.Steps[^2], taped.Steps[^1]);
        response.Truncation = Math.Max(orbit.Truncation, orbit.PhaseError);
        return (response, null);
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
