using Consort.Engine.Design;
using Consort.Engine.Pitch.Builds.Lanes;
using Consort.Engine.Pitch.Builds.PitchPath;

namespace Consort.Engine.Pitch.Builds.Trimming;

/// <summary>How one oscillator is trimmed on the bench.</summary>
/// <param name="Steps">What is adjusted, in order.</param>
/// <param name="Trimmers">The trimmer of each step, as its place among the voice's.</param>
/// <param name="LowNotes">Where each step is read: for tracking its lower note, else −1.</param>
/// <param name="HighNotes">Its higher or only note.</param>
/// <param name="Start">Where the trimmers stand before, 0 to 1.</param>
/// <param name="Resolution">Smallest step that a hand can set, share of the full turn.</param>
/// <param name="Turns">Full travel, turns.</param>
/// <param name="Slopes">Error of each step by each position, cents, row by row; of the design.</param>
internal sealed record TrimSheet(
    TrimStep[] Steps,
    int[] Trimmers,
    int[] LowNotes,
    int[] HighNotes,
    double[] Start,
    double[] Resolution,
    double[] Turns,
    double[] Slopes
)
{
    private const double Move = 0.01;

    /// <summary>Steps.</summary>
    public int Count => Steps.Length;

    /// <summary>The sheet of an oscillator of a voice.</summary>
    /// <param name="paths">The voice's pitch paths, whose notes hold those at which it is trimmed.</param>
    /// <param name="oscillator">Which one.</param>
    /// <param name="design">Reads the design itself: departures of nothing, at the bench's temperature.</param>
    public static TrimSheet Of(VoicePaths paths, int oscillator, BuildReader<One> design)
    {
        int[] trimmers = [.. Enumerable.Range(0, paths.Trimmers.Length).Where(t => paths.Trimmers[t].Oscillator == oscillator)];
        TrimStep[] steps = [.. trimmers.Select(t => paths.Trimmers[t].Step)];
        double[] volts = paths.Plans[oscillator].Volts;
        int Note(double at) => Array.FindIndex(volts, v => Math.Abs(v - at) < 1e-9);
        TrimSheet sheet = new(
            steps,
            trimmers,
            [.. steps.Select(step => step.Purpose == TrimPurpose.Tracking ? Note(step.Low) : -1)],
            [.. steps.Select(step => Note(step.High))],
            [.. trimmers.Select(t => Number("position", t))],
            [.. trimmers.Select(t => Number("resolution", t))],
            [.. trimmers.Select(t => Number("turns", t))],
            new double[steps.Length * steps.Length]
        );
        sheet.ReadSlopes(design, [.. Enumerable.Range(0, paths.Trimmers.Length).Select(t => new One(Number("position", t)))]);
        return sheet;

        double Number(string word, int t) => paths.Trimmers[t].Place.Bank.Numbers(word)[paths.Trimmers[t].Place.Index];
    }

    private void ReadSlopes(BuildReader<One> design, One[] positions)
    {
        for (int j = 0; j < Count; j++)
        {
            double own = positions[Trimmers[j]].Value;
            double[] low = Turned(Math.Max(0, own - Move));
            double[] high = Turned(Math.Min(1, own + Move));
            positions[Trimmers[j]] = new(own);
            for (int i = 0; i < Count; i++)
                Slopes[i * Count + j] = (high[i] - low[i]) / (Math.Min(1, own + Move) - Math.Max(0, own - Move));

            double[] Turned(double position)
            {
                positions[Trimmers[j]] = new(position);
                design.Turn(positions);
                return [.. Enumerable.Range(0, Count).Select(i => Error(design, i).Value)];
            }
        }
        design.Turn(positions);
    }

    /// <summary>What a step is to bring to nothing, cents.</summary>
    public T Error<T>(BuildReader<T> reader, int step)
        where T : struct, ILanes<T>
    {
        T high = reader.Cents(HighNotes[step]);
        return LowNotes[step] < 0 ? high : high - reader.Cents(LowNotes[step]);
    }
}
