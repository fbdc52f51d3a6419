using System.Collections.Immutable;
using Consort.Engine.Circuit;
using Consort.Engine.Circuit.Linear;
using Consort.Engine.Circuit.Motion;
using Consort.Engine.Circuit.Rest;
using Consort.Engine.Circuit.Wiring;
using Consort.Engine.Design;

namespace Consort.Engine.Pitch;

/// <summary>What all oscillators of a voice did at one keyboard voltage.</summary>
/// <param name="Volts">Keyboard voltage, V.</param>
/// <param name="Hertz">By oscillator; NaN when it does not oscillate.</param>
/// <param name="Unsteadiness">Largest share by which periods that were averaged differ.</param>
/// <param name="Steps">Accepted steps of the transient.</param>
public sealed record VoiceReading(double Volts, ImmutableArray<double> Hertz, double Unsteadiness, long Steps);

/// <summary>A voice wired up as one circuit, compiled, and ready to be played. One thread at a time; <see cref="Twin"/>
/// makes another for the next thread, which gives the same bits.</summary>
public sealed class PlayedVoice
{
    /// <summary>Nothing of interest takes longer than this many ideal periods to show itself.</summary>
    internal const double MostPeriods = 30;

    private readonly CircuitDesign design;
    private readonly ImmutableArray<string> keyboards;
    private readonly OperatingPoint operatingPoint;
    private LuProgram? restProgram;
    private LuProgram? motionProgram;
    private double[]? restGuess;

    private PlayedVoice(Voice voice, CircuitDesign design, CancellationToken cancel)
    {
        (Voice, this.design, Cancel) = (voice, design, cancel);
        Circuit = Engine.Circuit.Circuit.Compile(design);
        operatingPoint = new(Circuit);
        keyboards = [.. voice.Players.Where(player => player.IsPitch).Select(player => $"{player.Name}/V")];
        Oscillators = [.. voice.Members.Where(member => member.Module.Pitch is not null && member.Module.Sheet is null).Select(Locate)];
    }

    /// <summary>Wires and compiles a voice.</summary>
    /// <param name="cancel">Ends whatever is read of it and of its twins, before the next reading.</param>
    public static PlayedVoice Of(Voice voice, CancellationToken cancel = default) => new(voice, VoiceCircuit.Build(voice), cancel);

    /// <summary>Ends whatever is read of it: a reading that begins after that throws.</summary>
    internal CancellationToken Cancel { get; }

    /// <summary>The voice.</summary>
    public Voice Voice { get; }

    /// <summary>The whole voice as one circuit.</summary>
    public Engine.Circuit.Circuit Circuit { get; }

    /// <summary>Its oscillators, in panel order.</summary>
    public ImmutableArray<Oscillator> Oscillators { get; }

    /// <summary>The oscillator whose sums one gets by its link; null for one that follows none, or one without a circuit.</summary>
    public Oscillator? LeadOf(Oscillator follower) => Voice.LeadOf(follower.Name) is { } lead ? Oscillators.FirstOrDefault(oscillator => oscillator.Name == lead) : null;

    /// <summary>The middle of what the keyboard plays, V.</summary>
    public double MiddleVolts =>
        Voice.Players.FirstOrDefault(player => player.IsPitch) is { } keyboard ? 0.5 * (keyboard.Low + keyboard.High) : 0;

    /// <summary>How closely transients follow the circuit.</summary>
    public Accuracy Accuracy { get; init; } = Accuracy.Pitch;

    private Oscillator Locate(Member member)
    {
        PitchSpec spec = member.Module.Pitch!;
        Probe probe = new(Circuit.Net(MemberParts.Net(member.Name, spec.Net)), spec.Level, spec.Rising);
        return new(member, spec, probe, $"{member.Name}/{spec.TimingCapacitor}");
    }

    /// <summary>Finds the operating point at mid keyboard once, so that later solves start near their answer and every
    /// twin eliminates in the same order.</summary>
    public SolveFailure? Prepare()
    {
        SetKeyboard(MiddleVolts);
        (RestState? state, SolveFailure? failure) = operatingPoint.Find();
        if (state is null)
            return failure;
        restGuess = state.X;
        restProgram = Circuit.RestProgram;
        Transient run = new(Circuit, Accuracy);
        run.Start(state.X);
        for (int step = 0; step < 30; step++) // past the first settling: the order is then taken at ordinary steps
            if (run.Step(1) is { } failed)
                return failed;
        motionProgram = Circuit.MotionProgram;
        return null;
    }

    /// <summary>Where it rested when it was prepared.</summary>
    internal double[] PreparedRest => restGuess ?? throw new InvalidOperationException("prepare the voice first");

    /// <summary>Another of the same, for another thread: same parameters, same temperature, same order of elimination.</summary>
    public PlayedVoice Twin(Accuracy? accuracy = null)
    {
        PlayedVoice twin = new(Voice, design, Cancel) { Accuracy = accuracy ?? Accuracy };
        foreach ((PartBank from, PartBank to) in Circuit.Banks.Zip(twin.Circuit.Banks))
            foreach (string word in from.Words)
                from.Numbers(word).CopyTo(to.Numbers(word), 0);
        twin.Circuit.SetTemperature(Circuit.Temperature);
        (twin.restGuess, twin.restProgram, twin.motionProgram) = (restGuess, restProgram, motionProgram);
        return twin;
    }

    /// <summary>Plays a voltage on every keyboard of the voice.</summary>
    public void SetKeyboard(double volts)
    {
        foreach (string keyboard in keyboards)
            Circuit[keyboard, "value"] = volts;
    }

    /// <summary>Where the voice rests with its timing capacitors held.</summary>
    /// <exception cref="OperationCanceledException">It was cancelled.</exception>
    public (RestState? State, SolveFailure? Failure) Rest(double volts)
    {
        Cancel.ThrowIfCancellationRequested();
        SetKeyboard(volts);
        Circuit.RestProgram = restProgram;
        return operatingPoint.Find(restGuess);
    }

    /// <summary>The same, from a guess of one's own.</summary>
    /// <exception cref="OperationCanceledException">It was cancelled.</exception>
    public (RestState? State, SolveFailure? Failure) RestFrom(double volts, double[]? guess)
    {
        Cancel.ThrowIfCancellationRequested();
        SetKeyboard(volts);
        return operatingPoint.Find(guess);
    }

    /// <summary>Plays a voltage and reads every oscillator's frequency from the transient of the whole voice.</summary>
    public (VoiceReading? Reading, SolveFailure? Failure) Read(double volts)
    {
        (RestState? state, SolveFailure? failure) = Rest(volts);
        if (state is null)
            return (null, failure);
        Circuit.MotionProgram = motionProgram;
        double end = MostPeriods / Oscillators.Min(oscillator => oscillator.IdealHertz(volts));
        Transient run = new(Circuit, Accuracy, [.. Oscillators.Select(oscillator => oscillator.Probe)]);
        (PeriodCount[] counts, SolveFailure? failed) = PeriodCount.Follow(run, state.X, Oscillators.Length, end);
        if (failed is not null)
            return (null, failed);
        double unsteadiness = counts.Max(count => count.Unsteadiness);
        return (new(volts, [.. counts.Select(count => 1 / count.Period)], unsteadiness, run.Steps), null);
    }
}
