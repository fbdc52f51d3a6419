using System.Collections.Immutable;
using Consort.Engine.Circuit;
using Consort.Engine.Circuit.Motion;
using Consort.Engine.Circuit.Rest;
using Consort.Engine.Pitch;
using Consort.Engine.Quantities;

namespace Consort.Engine.Sound.Sync;

/// <summary>
/// A whole voice in motion whose first oscillator, the lead, is made slower or quicker as it runs, by its timing capacitor, so
/// that it pulls the others where they are wanted. Its period is taken as proportional to that capacitor.
/// </summary>
internal sealed class LedVoice
{
    private readonly PlayedVoice voice;
    private readonly double capacitor; // as it stands, F
    private readonly List<double>[] times; // counted crossings, by oscillator
    private Transient run;
    private double own; // the lead's period as its capacitor stands, s
    private double since; // s
    private double reached; // the lead's phase then

    private LedVoice(PlayedVoice voice, double volts)
    {
        this.voice = voice;
        capacitor = voice.Circuit[Lead.TimingCapacitor, "value"];
        own = 1 / Lead.IdealHertz(volts);
        times = [.. voice.Oscillators.Select(_ => new List<double>())];
        run = New();
    }

    private Oscillator Lead => voice.Oscillators[0];

    /// <summary>Starts from rest with a period of the lead, s.</summary>
    /// <param name="twin">No one else's: its lead's capacitor is moved.</param>
    public static (LedVoice? Led, SolveFailure? Failure) Start(PlayedVoice twin, double volts, double period)
    {
        LedVoice led = new(twin, volts);
        led.Move(period);
        twin.Circuit.ForgetSwitches();
        (RestState? state, SolveFailure? failure) = twin.Rest(volts);
        if (state is null)
            return (null, failure);
        led.run.Start(state.X);
        return (led, null);
    }

    /// <summary>Present time, s.</summary>
    public double Time => run.Time;

    /// <summary>The lead's present period, s.</summary>
    public double Period { get; private set; }

    /// <summary>Counted crossings of an oscillator so far, s.</summary>
    public IReadOnlyList<double> Times(int oscillator) => times[oscillator];

    /// <summary>Called after every step with time and state.</summary>
    public Action<double, double[]>? Seen { get; set; }

    /// <summary>Takes the lead's period from its last two crossings, between which it was not moved.</summary>
    public void TakePeriod()
    {
        double seen = times[0][^1] - times[0][^2];
        own *= seen / Period;
        Period = seen;
    }

    /// <summary>Gives the lead another period from now on; its phase runs on.</summary>
    public void SetPeriod(double seconds)
    {
        (reached, since) = (PhaseNow, run.Time);
        Move(seconds);
        double[] x = (double[])run.X.Clone();
        double time = run.Time;
        run = New();
        run.Start(x, time);
    }

    /// <summary>The lead's phase now, a share of its period after it was counted.</summary>
    public double PhaseNow => reached + (run.Time - since) / Period;

    /// <summary>When it comes to a phase next, s.</summary>
    public double Next(double phase) => run.Time + Turns.Part(phase - PhaseNow) * Period;

    /// <summary>Runs to a time.</summary>
    public SolveFailure? RunTo(double end) => RunUntil(() => false, end);

    /// <summary>Runs until something is so, or to a time at most.</summary>
    public SolveFailure? RunUntil(Func<bool> isSo, double end)
    {
        while (run.Time < end && !isSo())
        {
            voice.Cancel.ThrowIfCancellationRequested();
            int before = run.Crossings.Count;
            if (run.Step(end) is { } failure)
                return failure;
            for (; before < run.Crossings.Count; before++)
                Take(run.Crossings[before]);
            Seen?.Invoke(run.Time, run.X);
        }
        return null;
    }

    private void Take(Crossing crossing)
    {
        times[crossing.Probe].Add(crossing.Time);
        if (crossing.Probe == 0)
            (reached, since) = (0, crossing.Time);
    }

    private void Move(double seconds)
    {
        Period = seconds;
        voice.Circuit[Lead.TimingCapacitor, "value"] = capacitor * seconds / own;
    }

    private Transient New() => new(voice.Circuit, voice.Accuracy, [.. voice.Oscillators.Select(one => one.Probe)]);
}
