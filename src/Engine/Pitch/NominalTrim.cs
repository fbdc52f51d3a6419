using System.Collections.Immutable;
using Consort.Engine.Circuit;
using Consort.Engine.Design;

namespace Consort.Engine.Pitch;

/// <summary>
/// Trims one oscillator of a voice the way its sheet says: tracking until the low and the high note stand an exact
/// interval apart, centre until its note is right, high end until the topmost note is right. A person goes round until
/// nothing moves; here the same fixed point is found by Newton's method on real readings, with the slopes of the
/// trimmers taken from the operating point.
/// </summary>
public sealed class NominalTrim
{
    private const double Enough = 0.01; // cents
    private const int MostRounds = 8;
    private const double End = 1e-4; // of a trimmer's way: nearer to an end than this none stands, where what is left of its track vanishes and with it the slope
    private const int Foreseen = 3; // rounds without a reading, where a lesson is at hand

    private readonly PlayedVoice voice;
    private readonly SoloOscillator solo;
    private readonly TrimStep[] steps;
    private readonly double[] volts;
    private readonly TrimmerSlopes trimmers;
    private readonly double[] cents; // by note, where the trimmers stand
    private (double[] Positions, double[] Amperes, double[] Cents) read; // where it was read last
    private double[,]? slopes; // by note and trimmer
    private double share = double.NaN; // of what it found a turn leaves
    private bool isTaught; // by a lesson

    /// <summary>For one oscillator of a voice.</summary>
    public NominalTrim(PlayedVoice voice, SoloOscillator solo)
    {
        (this.voice, this.solo) = (voice, solo);
        steps = [.. solo.Oscillator.Member.Module.Trims.Where(step => step.Purpose != TrimPurpose.Other)];
        volts = [.. steps.SelectMany(step => step.Voltages).Distinct().Order()];
        trimmers = new(voice, solo, steps, volts);
        cents = new double[volts.Length];
    }

    /// <summary>Trims, and says where every trimmer came to stand.</summary>
    public (ImmutableArray<TrimResult> Results, SolveFailure? Failure) Run()
    {
        if (steps.Length == 0)
            return ([], null);
        double before = double.NaN; // of the round before
        for (int round = 0; round < MostRounds; round++)
        {
            if (Measure() is { } unread)
                return ([], unread);
            if (!isTaught && steps.All(step => IsEnough(Error(step))))
                break;
            if (LearnSlopes() is { } failure)
                return ([], failure);
            (double[] moves, List<int> free) = Moves();
            double left = free.Select(i => Math.Abs(Error(steps[i]))).DefaultIfEmpty(0).Max();
            share = double.IsNaN(before) ? share : left / before;
            bool isHeld = Enumerable.Range(0, moves.Length).Except(free).All(j => moves[j] == 0);
            bool isDone = isHeld && IsEnough(left);
            // Who was taught turns once more than needs be: it takes no reading.
            if (isDone && !isTaught || !Turn(moves))
                break;
            // Each turn leaves the same small share of what it found: where that is far less than enough, nothing needs reading again.
            if (isDone || isHeld && IsEnough(10 * left * share))
                return LookAgain() is { } unseen ? ([], unseen) : (Results(), null);
            before = left;
        }
        return (Results(), null);
    }

    /// <summary>Begins as one who has trimmed another of the kind: where that one came to stand, and on from there by what this one's
    /// timing current differs, as far as the operating point shows it.</summary>
    internal SolveFailure? BeginBy(TrimLesson lesson)
    {
        (slopes, share, isTaught) = (lesson.Slopes, lesson.Share, true);
        for (int j = 0; j < steps.Length; j++)
            solo.Set(steps[j].Trimmer, "position", lesson.Positions[j]);
        for (int round = 0; round < Foreseen; round++)
            if (Foresee(lesson) is { } failure)
                return failure;
            else if (!Turn(Moves().Moves))
                break;
        return null;
    }

    /// <summary>What trimming it taught; none where nothing was to be turned.</summary>
    internal TrimLesson? Lesson => slopes is null ? null : LastRead(slopes);

    /// <summary>Looks again at what is left, which others that were trimmed meanwhile may have moved, as far as the operating point
    /// shows it.</summary>
    internal SolveFailure? LookAgain() => Foresee(LastRead(slopes ?? new double[volts.Length, steps.Length]));

    private TrimLesson LastRead(double[,] known) => new(read.Positions, read.Amperes, read.Cents, known, share, solo.Oscillator.Member.StandsCents);

    /// <summary>The notes of the sheet, V.</summary>
    internal IReadOnlyList<double> Volts => volts;

    /// <summary>How far off a note of the sheet is where the trimmers came to stand, cents; null for other notes.</summary>
    internal double? Left(double at) => Array.IndexOf(volts, at) is >= 0 and int place ? cents[place] : null;

    private static bool IsEnough(double error) => Math.Abs(error) < Enough;

    private SolveFailure? Measure()
    {
        double[] amperes = new double[volts.Length];
        for (int i = 0; i < volts.Length; i++)
        {
            (double hertz, SolveFailure? failure) = solo.Read(volts[i]);
            if (failure is not null)
                return failure;
            amperes[i] = solo.TimingAmperes;
            if (double.IsNaN(hertz))
                return new($"{solo.Oscillator.Name} does not oscillate at {volts[i]:G4} V", solo.Oscillator.Spec.Net, 0, 0);
            cents[i] = solo.Oscillator.Cents(volts[i], hertz);
        }
        read = ([.. steps.Select(step => solo.Position(step.Trimmer))], amperes, [.. cents]);
        return null;
    }

    private SolveFailure? LearnSlopes()
    {
        if (slopes is not null)
            return null;
        (slopes, SolveFailure? failure) = trimmers.Read(cents);
        return failure;
    }

    // What it does by what its timing current differs from that one's. What a trimmer inside the core does is not seen at
    // rest: those stand where the other's do while the current is looked at, and count by their slopes.
    private SolveFailure? Foresee(TrimLesson lesson)
    {
        int[] inside = [.. Enumerable.Range(0, steps.Length).Where(j => steps[j].Purpose == TrimPurpose.HighEnd)];
        double[] stood = [.. inside.Select(j => solo.Position(steps[j].Trimmer))];
        foreach (int j in inside)
            solo.Set(steps[j].Trimmer, "position", lesson.Positions[j]);
        (double[]? amperes, SolveFailure? failure) = trimmers.TimingCurrents();
        foreach ((int j, double position) in inside.Zip(stood))
            solo.Set(steps[j].Trimmer, "position", position);
        if (amperes is null)
            return failure;
        double higher = solo.Oscillator.Member.StandsCents - lesson.StandsCents;
        for (int i = 0; i < volts.Length; i++)
        {
            cents[i] = lesson.Cents[i] + 1200 * Math.Log2(amperes[i] / lesson.Amperes[i]) - higher;
            foreach ((int j, double position) in inside.Zip(stood))
                cents[i] += lesson.Slopes[i, j] * (position - lesson.Positions[j]);
        }
        return null;
    }

    private double CentsAt(double at) => cents[Array.IndexOf(volts, at)];

    private double Error(TrimStep step) => ErrorOf(step, CentsAt);

    // d(error of step i)/d(position of trimmer j).
    private double Slope(int i, int j) => ErrorOf(steps[i], at => slopes![Array.IndexOf(volts, at), j]);

    private static double ErrorOf(TrimStep step, Func<double, double> at) =>
        step.Purpose == TrimPurpose.Tracking ? at(step.High) - at(step.Low) : at(step.High);

    // Newton on all trimmers at once: by how much each is to be turned back, and those that are not stopped by an end. A trimmer
    // that comes to its end stays there, its own aim is given up, and the others go on without it.
    private (double[] Moves, List<int> Free) Moves()
    {
        double[] moves = new double[steps.Length];
        List<int> free = [.. Enumerable.Range(0, steps.Length)];
        while (free.Count > 0)
        {
            double[] solved = SmallSystem.Solve(Among(free), [.. free.Select(i => Error(steps[i]) - FromFixed(moves, free, i))]);
            for (int k = 0; k < free.Count; k++)
                moves[free[k]] = solved[k];
            int beyond = free.FindIndex(j => solo.Position(steps[j].Trimmer) - moves[j] is < End or > 1 - End);
            if (beyond < 0)
                break;
            int stuck = free[beyond];
            double stands = solo.Position(steps[stuck].Trimmer);
            moves[stuck] = stands - Math.Clamp(stands - moves[stuck], End, 1 - End);
            free.RemoveAt(beyond);
        }
        return (moves, free);
    }

    // False when nothing moves any more.
    private bool Turn(double[] moves)
    {
        bool moved = false;
        for (int j = 0; j < steps.Length; j++)
        {
            double position = solo.Position(steps[j].Trimmer);
            double next = Math.Clamp(position - moves[j], End, 1 - End);
            moved |= Math.Abs(next - position) > 1e-12;
            solo.Set(steps[j].Trimmer, "position", next);
        }
        return moved;
    }

    private double[,] Among(List<int> free)
    {
        double[,] part = new double[free.Count, free.Count];
        for (int i = 0; i < free.Count; i++)
            for (int j = 0; j < free.Count; j++)
                part[i, j] = Slope(free[i], free[j]);
        return part;
    }

    private double FromFixed(double[] moves, List<int> free, int equation) =>
        Enumerable.Range(0, moves.Length).Except(free).Sum(j => Slope(equation, j) * moves[j]);

    private ImmutableArray<TrimResult> Results() =>
        [
            .. steps.Select(
                (step, j) =>
                {
                    double position = solo.Position(step.Trimmer);
                    double turns = voice.Circuit[solo.Oscillator.Part(step.Trimmer), "turns"];
                    double octaves = step.Purpose == TrimPurpose.Tracking
                        ? (step.High - step.Low) / solo.Oscillator.Spec.VoltsPerOctave
                        : 1;
                    return new TrimResult(
                        solo.Oscillator.Name,
                        step.Trimmer,
                        step.Purpose,
                        position,
                        2 * Math.Abs(position - 0.5),
                        slopes is null ? double.NaN : Slope(j, j) / turns / octaves,
                        Math.Abs(Error(step)) < 10 * Enough
                    );
                }
            ),
        ];
}
