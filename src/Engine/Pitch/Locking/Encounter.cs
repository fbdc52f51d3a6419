using Consort.Engine.Circuit;
using Consort.Engine.Circuit.Motion;
using Consort.Engine.Circuit.Rest;
using Consort.Engine.Quantities;

namespace Consort.Engine.Pitch.Locking;

/// <summary>What was read of a pair.</summary>
/// <param name="After">When the second was let go: turns of the first after one of its crossings.</param>
/// <param name="Phase">The second's phase ahead of the first's, of a turn in which their ratio's harmonics meet once.</param>
/// <param name="Cents">How far the second's last periods are above their ratio to the first's.</param>
internal readonly record struct Meeting(double After, double Phase, double Cents);

/// <summary>Two oscillators of a voice that are let go at a chosen phase, in the whole circuit; all others are held.</summary>
internal sealed class Encounter(PlayedVoice voice, PairLock pair)
{
    // The oscillators run for so many meetings after the second one was let go: it forgets how it was held.
    private const int Periods = 3;

    private readonly Oscillator first = voice.Oscillators.First(oscillator => oscillator.Name == pair.First);
    private readonly Oscillator second = voice.Oscillators.First(oscillator => oscillator.Name == pair.Second);
    private readonly double volts = pair.Volts;
    private readonly Ratio ratio = pair.Ratio;

    private double? sum; // of the phase met and what the moment of release takes off it, turns

    /// <summary>By how much the phase is less where the second is let go a turn of the first later.</summary>
    public double PerRelease => ratio.Second;

    /// <summary>At a phase between the two, as nearly as one try comes: they pull each other while they run.</summary>
    public (Meeting? Met, SolveFailure? Failure) MeetNear(double phase)
    {
        if (sum is null && Meet(0).Failure is { } failed)
            return (null, failed);
        return Meet((sum!.Value - phase) / PerRelease);
    }

    /// <summary>The second is let go so many turns of the first after one of the first's crossings.</summary>
    public (Meeting? Met, SolveFailure? Failure) Meet(double after)
    {
        (double[]? x, double time, SolveFailure? failure) = LetGo(Turns.Part(after));
        if (x is null)
            return (null, failure);
        Action free = Disturbance.Hold(voice, oscillator => oscillator == first || oscillator == second);
        try
        {
            (Meeting? met, failure) = Read(x, time, after);
            if (met is { } meeting)
                sum = PerRelease * after + meeting.Phase;
            return (met, failure);
        }
        finally
        {
            free();
        }
    }

    private double Period => 1 / first.IdealHertz(volts);

    // The first alone runs until the second is to be let go.
    private (double[]? X, double Time, SolveFailure? Failure) LetGo(double after)
    {
        voice.Circuit.ForgetSwitches(); // a held core may rest with its trigger either way: it is always the same one
        (RestState? state, SolveFailure? failure) = voice.Rest(volts);
        if (state is null)
            return (null, 0, failure);
        Action release = Disturbance.Hold(voice, oscillator => oscillator == first);
        try
        {
            Transient run = new(voice.Circuit, voice.Accuracy, [first.Probe]);
            run.Start(state.X);
            while (run.Crossings.Count < 2 && run.Time < PlayedVoice.MostPeriods * Period)
                if (run.Step(PlayedVoice.MostPeriods * Period) is { } failed)
                    return (null, 0, failed);
            SolveFailure? broken = run.RunTo(run.Time + after * Period);
            return broken is null ? ((double[])run.X.Clone(), run.Time, null) : (null, 0, broken);
        }
        finally
        {
            release();
        }
    }

    private (Meeting?, SolveFailure?) Read(double[] x, double time, double after)
    {
        Transient both = new(voice.Circuit, voice.Accuracy, [first.Probe, second.Probe]);
        both.Start(x, time);
        if (both.RunTo(time + (Periods * ratio.First + 1) * Period) is { } broken)
            return (null, broken);
        double[] one = Times(0), other = Times(1);
        if (one.Length < ratio.First + 2 || other.Length < ratio.Second + 2)
            return (null, new("one of the two does not oscillate", second.Spec.Net, both.Time, 0));
        // The second's periods that lie over the first's last.
        double cents = 1200 * Math.Log2((one[^1] - one[^(1 + ratio.First)]) / (other[^1] - other[^(1 + ratio.Second)]));
        double phase = ratio.First * (one[^1] - other[^1]) / (other[^1] - other[^2]);
        return (new Meeting(after, phase, cents), null);

        double[] Times(int probe) => [.. both.Crossings.Where(crossing => crossing.Probe == probe).Select(crossing => crossing.Time)];
    }
}
