using Consort.Engine.Circuit;
using Consort.Engine.Circuit.Motion;
using Consort.Engine.Circuit.Rest;
using Consort.Engine.Circuit.Wiring;

namespace Consort.Engine.Pitch.Locking;

/// <summary>
/// What one oscillator's motion brings to the nets that others share with the voice: the whole circuit runs with this one
/// alone oscillating, all other timing capacitors held by making them a thousand times larger.
/// </summary>
internal sealed class Disturbance
{
    private const double Held = 1e3;
    private const double StepsPerPeriod = 400; // at least: charges are joined by straight lines

    private readonly List<double> times = [];
    private readonly List<double[]> charges = []; // brought since the period's start, C, by port

    private Disturbance() { }

    /// <summary>The mover's period, s.</summary>
    public double Period => times[^1] - times[0];

    /// <summary>Holds the timing capacitors of all oscillators but those named.</summary>
    /// <returns>Lets them go again.</returns>
    public static Action Hold(PlayedVoice voice, Func<Oscillator, bool> moves)
    {
        (string Name, double Value)[] held =
        [
            .. voice.Oscillators.Where(oscillator => !moves(oscillator)).Select(oscillator => (oscillator.TimingCapacitor, voice.Circuit[oscillator.TimingCapacitor, "value"])),
        ];
        foreach ((string name, double value) in held)
            voice.Circuit[name, "value"] = Held * value;
        return () =>
        {
            foreach ((string name, double value) in held)
                voice.Circuit[name, "value"] = value;
        };
    }

    /// <summary>Takes one steady period of a mover, as it is felt by several others; one result each.</summary>
    /// <param name="accuracy">How closely.</param>
    public static (Disturbance[]? Felt, SolveFailure? Failure) Take(PlayedVoice voice, Oscillator mover, IReadOnlyList<Piece> others, double volts, Accuracy accuracy)
    {
        voice.Circuit.ForgetSwitches();
        (RestState? state, SolveFailure? failure) = voice.Rest(volts);
        if (state is null)
            return (null, failure);
        foreach (Piece other in others)
            if (other.TakeSurroundings(state) is null)
                return (null, new("what surrounds an oscillator has no answer at rest", mover.Name, 0, 0));
        Action release = Hold(voice, oscillator => oscillator == mover);
        try
        {
            return Follow(voice, mover, others, accuracy, state.X, 2 * PlayedVoice.MostPeriods / mover.IdealHertz(volts));
        }
        finally
        {
            release();
        }
    }

    private static (Disturbance[]?, SolveFailure?) Follow(PlayedVoice voice, Oscillator mover, IReadOnlyList<Piece> others, Accuracy accuracy, double[] x, double end)
    {
        (string, string) own = (mover.Name, mover.Spec.Net);
        (RunIn? settled, SolveFailure? failure) = RunIn.Of(taken => new(voice.Circuit, taken, [mover.Probe]), accuracy, x, own, end);
        if (settled is null)
            return (null, failure);
        (Transient run, double period) = (settled.Run, settled.Period);
        if (RunIn.Cross(run, 1, own, run.Time + period) is { } stopped)
            return (null, stopped);
        Recorder[] recorders = [.. others.Select(other => new Recorder(other))];
        void Take(double time, double[] at)
        {
            foreach (Recorder recorder in recorders)
                recorder.Take(time, at);
        }
        Take(run.Time, run.X);
        run.Accepted = Take;
        double longest = period / StepsPerPeriod;
        while (run.Crossings.Count < 2)
            if (run.Step(run.Time + longest) is { } broken)
                return (null, broken);
        return ([.. recorders.Select(recorder => recorder.Result)], null);
    }

    /// <summary>The mean current out of one shared net in each cell of phase, A.</summary>
    public double[] Cells(int port, int count)
    {
        double[] cells = new double[count];
        double width = Period / count;
        int step = 0;
        double before = charges[0][port];
        for (int i = 0; i < count; i++)
        {
            double until = times[0] + (i + 1) * width;
            while (step + 2 < times.Count && times[step + 1] < until)
                step++;
            double share = (until - times[step]) / (times[step + 1] - times[step]);
            double now = charges[step][port] + Math.Min(1, share) * (charges[step + 1][port] - charges[step][port]);
            (cells[i], before) = ((now - before) / width, now);
        }
        return cells;
    }

    /// <summary>Adds up what a piece tells, step after step.</summary>
    private sealed class Recorder(Piece piece)
    {
        private readonly double[] current = new double[piece.Shared.Count];
        private readonly double[] last = new double[piece.Shared.Count];
        private readonly double[] charge = new double[piece.Shared.Count];
        private readonly double[] passed = new double[piece.Shared.Count];

        public Disturbance Result { get; } = new();

        public void Take(double time, double[] x)
        {
            piece.Brought(x, time, current, charge);
            if (Result.times.Count > 0)
            {
                double length = time - Result.times[^1];
                for (int i = 0; i < current.Length; i++)
                    passed[i] += 0.5 * length * (last[i] + current[i]);
            }
            current.CopyTo(last, 0);
            Result.times.Add(time);
            Result.charges.Add([.. passed.Zip(charge, (a, b) => a + b)]);
        }
    }
}
