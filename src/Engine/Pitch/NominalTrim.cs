using System.Collections.Immutable;
using Consort.Engine.Circuit;
using Consort.Engine.Circuit.Rest;
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

    private readonly PlayedVoice voice;
    private readonly SoloOscillator solo;
    private readonly TrimStep[] steps;
    private readonly double[] volts;
    private readonly double[] cents;
    private double[] errors = []; // what is left of each step's aim, cents
    private double[,]? slopes;
    private double share = double.NaN; // of what it found a turn leaves

    /// <summary>For one oscillator of a voice.</summary>
    public NominalTrim(PlayedVoice voice, SoloOscillator solo)
    {
        (this.voice, this.solo) = (voice, solo);
        steps = [.. solo.Oscillator.Member.Module.Trims.Where(step => step.Purpose != TrimPurpose.Other)];
        volts = [.. steps.SelectMany(step => step.Voltages).Distinct().Order()];
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
            if (Measure() is { } failure)
                return ([], failure);
            errors = [.. steps.Select(Error)];
            if (errors.All(IsEnough))
                break;
            if (slopes is null)
            {
                (slopes, SolveFailure? failed) = Slopes();
                if (slopes is null)
                    return ([], failed);
            }
            (double[] moves, List<int> free) = Moves(errors);
            bool isHeld = Enumerable.Range(0, moves.Length).Except(free).All(j => moves[j] == 0);
            if (isHeld && free.All(i => IsEnough(errors[i])) || !Turn(moves))
                break;
            double left = free.Select(i => Math.Abs(errors[i])).DefaultIfEmpty(0).Max();
            share = double.IsNaN(before) ? share : left / before;
            // Each turn leaves the same small share of what it found: where that is far less than enough, nothing needs reading again.
            if (isHeld && IsEnough(10 * left * share))
            {
                errors = [.. errors.Select((error, i) => error - Enumerable.Range(0, moves.Length).Sum(j => slopes[i, j] * moves[j]))];
                break;
            }
            before = left;
        }
        return (Results(), null);
    }

    /// <summary>Begins where an alike one came to stand, moved on by as much as this one is to stand higher, with what is known of
    /// its trimmers: as one who trims several of a kind goes on from the last.</summary>
    public void BeginLike(NominalTrim trimmed)
    {
        if (trimmed.slopes is null)
            return;
        (slopes, share) = (trimmed.slopes, trimmed.share);
        for (int j = 0; j < steps.Length; j++)
            solo.Set(steps[j].Trimmer, "position", trimmed.Position(trimmed.steps[j]));
        double higher = solo.Oscillator.Member.StandsCents - trimmed.solo.Oscillator.Member.StandsCents;
        Turn(Moves([.. steps.Select((step, i) => trimmed.errors[i] - (step.Purpose == TrimPurpose.Tracking ? 0 : higher))]).Moves);
    }

    private static bool IsEnough(double error) => Math.Abs(error) < Enough;

    private SolveFailure? Measure()
    {
        for (int i = 0; i < volts.Length; i++)
        {
            (double hertz, SolveFailure? failure) = solo.Read(volts[i]);
            if (failure is not null)
                return failure;
            if (double.IsNaN(hertz))
                return new($"{solo.Oscillator.Name} does not oscillate at {volts[i]:G4} V", solo.Oscillator.Spec.Net, 0, 0);
            cents[i] = solo.Oscillator.Cents(volts[i], hertz);
        }
        return null;
    }

    private double CentsAt(double at) => cents[Array.IndexOf(volts, at)];

    private double Error(TrimStep step) =>
        step.Purpose == TrimPurpose.Tracking ? CentsAt(step.High) - CentsAt(step.Low) : CentsAt(step.High);

    private double Position(TrimStep step) => voice.Circuit[solo.Oscillator.Part(step.Trimmer), "position"];

    // d(error of step i)/d(position of trimmer j). Pitch follows the timing current, which the operating point gives;
    // what it does not show (a trimmer inside the core) is read from a transient and grows with frequency.
    private (double[,]? Slopes, SolveFailure? Failure) Slopes()
    {
        int count = steps.Length;
        double[,] found = new double[count, count];
        for (int j = 0; j < count; j++)
        {
            (double[]? moves, SolveFailure? failure) =
                steps[j].Purpose == TrimPurpose.HighEnd ? MovesInMotion(steps[j]) : MovesAtRest(steps[j]);
            if (moves is null)
                return (null, failure);
            for (int i = 0; i < count; i++)
            {
                double high = moves[Array.IndexOf(volts, steps[i].High)];
                found[i, j] =
                    steps[i].Purpose == TrimPurpose.Tracking ? high - moves[Array.IndexOf(volts, steps[i].Low)] : high;
            }
        }
        return (found, null);
    }

    private (double[]? Moves, SolveFailure? Failure) MovesAtRest(TrimStep step)
    {
        const double Move = 0.01;
        double position = Position(step);
        double low = Math.Max(0, position - Move);
        double high = Math.Min(1, position + Move);
        double[] moves = new double[volts.Length];
        for (int i = 0; i < volts.Length; i++)
        {
            solo.Set(step.Trimmer, "position", low);
            (double before, SolveFailure? failed) = TimingCurrent(volts[i]);
            solo.Set(step.Trimmer, "position", high);
            (double after, SolveFailure? failedAfter) = TimingCurrent(volts[i]);
            if ((failed ?? failedAfter) is { } failure)
                return (null, failure);
            moves[i] = 1200 * Math.Log2(after / before) / (high - low);
        }
        solo.Set(step.Trimmer, "position", position);
        return (moves, null);
    }

    private (double[]? Moves, SolveFailure? Failure) MovesInMotion(TrimStep step)
    {
        double position = Position(step);
        double other = position < 0.5 ? position + 0.2 : position - 0.2;
        solo.Set(step.Trimmer, "position", other);
        (double hertz, SolveFailure? failure) = solo.Read(step.High);
        solo.Set(step.Trimmer, "position", position);
        if (failure is not null)
            return (null, failure);
        double slope = (solo.Oscillator.Cents(step.High, hertz) - CentsAt(step.High)) / (other - position);
        double top = solo.Oscillator.IdealHertz(step.High);
        return ([.. volts.Select(v => slope * solo.Oscillator.IdealHertz(v) / top)], null);
    }

    private (double Amperes, SolveFailure? Failure) TimingCurrent(double at)
    {
        (RestState? state, SolveFailure? failure) = voice.Rest(at);
        return state is null
            ? (double.NaN, failure)
            : (Math.Abs(TimingCapacitor.Current(voice.Circuit, solo.Oscillator.TimingCapacitor, state)), null);
    }

    // Newton on all trimmers at once: by how much each is to be turned back, and those that are not stopped by an end. A trimmer
    // that comes to its end stays there, its own aim is given up, and the others go on without it.
    private (double[] Moves, List<int> Free) Moves(double[] left)
    {
        double[] moves = new double[steps.Length];
        List<int> free = [.. Enumerable.Range(0, steps.Length)];
        while (free.Count > 0)
        {
            double[] solved = SmallSystem.Solve(Among(slopes!, free), [.. free.Select(i => left[i] - FromFixed(slopes!, moves, free, i))]);
            for (int k = 0; k < free.Count; k++)
                moves[free[k]] = solved[k];
            int beyond = free.FindIndex(j => Position(steps[j]) - moves[j] is < 0 or > 1);
            if (beyond < 0)
                break;
            int stuck = free[beyond];
            moves[stuck] = Position(steps[stuck]) - Math.Clamp(Position(steps[stuck]) - moves[stuck], 0, 1);
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
            double next = Math.Clamp(Position(steps[j]) - moves[j], 0, 1);
            moved |= Math.Abs(next - Position(steps[j])) > 1e-12;
            solo.Set(steps[j].Trimmer, "position", next);
        }
        return moved;
    }

    private static double[,] Among(double[,] slopes, List<int> free)
    {
        double[,] part = new double[free.Count, free.Count];
        for (int i = 0; i < free.Count; i++)
            for (int j = 0; j < free.Count; j++)
                part[i, j] = slopes[free[i], free[j]];
        return part;
    }

    private static double FromFixed(double[,] slopes, double[] moves, List<int> free, int equation)
    {
        double sum = 0;
        for (int j = 0; j < moves.Length; j++)
            if (!free.Contains(j))
                sum += slopes[equation, j] * moves[j];
        return sum;
    }

    private ImmutableArray<TrimResult> Results() =>
        [
            .. steps.Select(
                (step, j) =>
                {
                    double position = Position(step);
                    double turns = voice.Circuit[solo.Oscillator.Part(step.Trimmer), "turns"];
                    double octaves = step.Purpose == TrimPurpose.Tracking
                        ? (step.High - step.Low) / solo.Oscillator.Spec.VoltsPerOctave
                        : 1;
                    double slope = slopes is null ? double.NaN : slopes[j, j] / turns / octaves;
                    bool reached = Math.Abs(errors[j]) < 10 * Enough;
                    return new TrimResult(
                        solo.Oscillator.Name,
                        step.Trimmer,
                        step.Purpose,
                        position,
                        2 * Math.Abs(position - 0.5),
                        slope,
                        reached
                    );
                }
            ),
        ];
}
