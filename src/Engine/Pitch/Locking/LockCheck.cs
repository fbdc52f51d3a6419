using Consort.Engine.Circuit;
using Consort.Engine.Circuit.Motion;
using Consort.Engine.Circuit.Rest;

namespace Consort.Engine.Pitch.Locking;

/// <summary>A lock range from the whole circuit in motion beside the reduced one.</summary>
/// <param name="Pair">The reduced one.</param>
/// <param name="Reduced">Difference of the drift's speeds at the two phases that were run, cents.</param>
/// <param name="Whole">The same from the whole circuit.</param>
public sealed record LockCheck(PairLock Pair, double Reduced, double Whole)
{
    /// <summary>By which share the reduced one is off.</summary>
    public double Error => Reduced / Whole - 1;

    // The oscillators run for so many periods after the second one was let go: it forgets how it was held.
    private const int Periods = 3;

    // A phase is met this closely, turns, or after so many tries.
    private const double Met = 1e-5;
    private const int Tries = 7;

    /// <summary>Runs a pair with both oscillators going, once at the phase where the second drifts fastest and once where
    /// slowest, and takes the difference of their last periods' ratios. They are first brought to unison, so that they stay
    /// at their phase; all others are held. Neither result nor failure where they would not stay: where edges meet for a
    /// ten-thousandth of a turn only.</summary>
    public static (LockCheck? Check, SolveFailure? Failure) Run(PlayedVoice voice, PairLock pair, Accuracy? accuracy = null)
    {
        PlayedVoice twin = voice.Twin(accuracy ?? LockReader.Fine);
        Oscillator first = twin.Oscillators.First(oscillator => oscillator.Name == pair.First);
        Oscillator second = twin.Oscillators.First(oscillator => oscillator.Name == pair.Second);
        (Meeting? apart, SolveFailure? failure) = Meet(twin, first, second, pair.Volts, 0);
        if (apart is not { } natural)
            return (null, failure);
        twin.Circuit[second.TimingCapacitor, "value"] *= Math.Pow(2, natural.Cents / 1200);
        double[] smooth = Smooth(pair.Curve);
        (Meeting? quick, failure) = MeetAt(twin, first, second, pair.Volts, (double)Array.IndexOf(smooth, smooth.Max()) / smooth.Length);
        if (quick is not { } fast)
            return (null, failure);
        (Meeting? late, failure) = MeetAt(twin, first, second, pair.Volts, (double)Array.IndexOf(smooth, smooth.Min()) / smooth.Length);
        if (late is not { } slow)
            return (null, failure);
        double reduced = At(smooth, fast.Phase) - At(smooth, slow.Phase);
        return reduced < 0.5 * pair.Width ? (null, null) : (new(pair, reduced, fast.Cents - slow.Cents), null);
    }

    // At a phase between the two, as nearly as can be.
    private static (Meeting?, SolveFailure?) MeetAt(PlayedVoice voice, Oscillator first, Oscillator second, double volts, double phase)
    {
        (double after, double slope) = (0, -1); // of the phase met by the moment of release; they pull each other while they run
        (double After, double Off)? before = null;
        for (int count = 1; ; count++)
        {
            (Meeting? met, SolveFailure? failure) = Meet(voice, first, second, volts, after);
            if (met is not { } meeting)
                return (null, failure);
            double off = Math.IEEERemainder(meeting.Phase - phase, 1);
            if (Math.Abs(off) < Met || count == Tries)
                return (meeting, null);
            if (before is { } last && Math.Abs(off) < 0.01 && Math.Abs(last.Off) < 0.1 && after != last.After)
                slope = Math.Clamp((off - last.Off) / (after - last.After), -8, -0.3);
            before = (after, off);
            after -= off / slope;
        }
    }

    // Mean over a little of a turn either way: at the very edge of a jump the two could stand on different sides of it.
    private static double[] Smooth(IReadOnlyList<double> curve)
    {
        int reach = curve.Count / 8192;
        double[] smooth = new double[curve.Count];
        double sum = 0;
        for (int i = -2 * reach; i < smooth.Length; i++)
        {
            sum += curve[(i + reach + curve.Count) % curve.Count];
            if (i > 0)
                sum -= curve[(i - 1 - reach + curve.Count) % curve.Count];
            if (i >= 0)
                smooth[i] = sum / (2 * reach + 1);
        }
        return smooth;
    }

    private static double At(double[] curve, double phase)
    {
        double place = (phase - Math.Floor(phase)) * curve.Length;
        int i = (int)place % curve.Length;
        return curve[i] + (place - Math.Floor(place)) * (curve[(i + 1) % curve.Length] - curve[i]);
    }

    /// <summary>What was read of a pair: the second's phase ahead of the first's, turns, and how far its last period is above
    /// the first's, cents.</summary>
    private readonly record struct Meeting(double Phase, double Cents);

    // The second is let go so many turns of the first after one of the first's crossings.
    private static (Meeting?, SolveFailure?) Meet(PlayedVoice voice, Oscillator first, Oscillator second, double volts, double after)
    {
        voice.Circuit.ForgetSwitches(); // a held core may rest with its trigger either way: it is always the same one
        (RestState? state, SolveFailure? failure) = voice.Rest(volts);
        if (state is null)
            return (null, failure);
        Action release = Disturbance.Hold(voice, oscillator => oscillator == first);
        Transient run = new(voice.Circuit, voice.Accuracy, [first.Probe]);
        run.Start(state.X);
        double period = 1 / first.IdealHertz(volts);
        while (run.Crossings.Count < 2 && run.Time < PlayedVoice.MostPeriods * period)
            if (run.Step(PlayedVoice.MostPeriods * period) is { } failed)
            {
                release();
                return (null, failed);
            }
        SolveFailure? broken = run.RunTo(run.Time + (after - Math.Floor(after)) * period);
        release();
        if (broken is not null)
            return (null, broken);
        Action free = Disturbance.Hold(voice, oscillator => oscillator == first || oscillator == second);
        try
        {
            return Read(voice, first, second, (double[])run.X.Clone(), run.Time, period);
        }
        finally
        {
            free();
        }
    }

    private static (Meeting?, SolveFailure?) Read(PlayedVoice voice, Oscillator first, Oscillator second, double[] x, double time, double period)
    {
        Transient both = new(voice.Circuit, voice.Accuracy, [first.Probe, second.Probe]);
        both.Start(x, time);
        if (both.RunTo(time + (Periods + 1) * period) is { } broken)
            return (null, broken);
        double[] one = Times(0), other = Times(1);
        if (one.Length < 3 || other.Length < 3)
            return (null, new("one of the two does not oscillate", second.Spec.Net, both.Time, 0));
        // The second's period that lies over the first's last.
        double cents = 1200 * Math.Log2((one[^1] - one[^2]) / (other[^1] - other[^2]));
        double phase = (one[^1] - other[^1]) / (other[^1] - other[^2]);
        return (new Meeting(phase, cents), null);

        double[] Times(int probe) => [.. both.Crossings.Where(crossing => crossing.Probe == probe).Select(crossing => crossing.Time)];
    }
}
