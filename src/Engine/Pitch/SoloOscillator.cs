using Consort.Engine.Circuit;
using Consort.Engine.Circuit.Linear;
using Consort.Engine.Circuit.Motion;
using Consort.Engine.Circuit.Rest;
using Consort.Engine.Circuit.Wiring;

namespace Consort.Engine.Pitch;

/// <summary>
/// One oscillator of a voice, oscillating in its full circuit, with the rest of the voice standing at its jacks, link
/// and supply as it answers at rest. Sixteen times less work than the voice of four in motion; what that leaves out is
/// measured against the whole voice in every proof.
/// </summary>
public sealed class SoloOscillator
{
    private readonly PlayedVoice voice;
    private readonly Piece piece;
    private readonly Probe probe;
    private LuProgram? program;

    /// <summary>Cuts an oscillator out of a prepared voice.</summary>
    public SoloOscillator(PlayedVoice voice, Oscillator oscillator)
    {
        (this.voice, Oscillator) = (voice, oscillator);
        piece = new(voice.Circuit, oscillator.Name, voice.PreparedRest);
        probe = oscillator.Probe with { Net = piece.Circuit.Net(MemberParts.Net(oscillator.Name, oscillator.Spec.Net)) };
        TakeParameters();
    }

    /// <summary>Which one.</summary>
    public Oscillator Oscillator { get; }

    /// <summary>Its circuit.</summary>
    public Engine.Circuit.Circuit Circuit => piece.Circuit;

    /// <summary>The nets that it shares with the rest of the voice.</summary>
    internal IReadOnlyList<string> Shared => piece.Shared;

    /// <summary>Where its period is counted.</summary>
    public Probe Probe => probe;

    /// <summary>Takes a few steps once, so that every later run eliminates in the same order, whatever is run first.</summary>
    public SolveFailure? Prepare(double volts)
    {
        (double[]? x, SolveFailure? failure) = Start(volts);
        if (x is null)
            return failure;
        Transient run = new(piece.Circuit, voice.Accuracy, [probe]);
        run.Start(x);
        for (int step = 0; step < 30; step++)
            if (run.Step(1) is { } failed)
                return failed;
        program = piece.Circuit.MotionProgram;
        return null;
    }

    /// <summary>Takes parameters and temperature over from the voice.</summary>
    public void TakeParameters() => piece.TakeParameters();

    /// <summary>Sets one parameter here and in the voice.</summary>
    public void Set(string designator, string word, double value)
    {
        voice.Circuit[Oscillator.Part(designator), word] = value;
        piece.Circuit[Oscillator.Part(designator), word] = value;
    }

    /// <summary>Where one of its trimmers stands, 0 to 1.</summary>
    internal double Position(string trimmer) => voice.Circuit[Oscillator.Part(trimmer), "position"];

    /// <summary>The state from which a run at a keyboard voltage starts.</summary>
    public (double[]? X, SolveFailure? Failure) Start(double volts)
    {
        (RestState? state, SolveFailure? failure) = voice.Rest(volts);
        return state is null ? (null, failure) : Start(state);
    }

    /// <summary>Its timing current where the last run started, A.</summary>
    internal double TimingAmperes { get; private set; } = double.NaN;

    /// <summary>The same, from where the voice rests at that voltage.</summary>
    internal (double[]? X, SolveFailure? Failure) Start(RestState state)
    {
        TimingAmperes = TimingCapacitor.Size(voice.Circuit, Oscillator.TimingCapacitor, state);
        double[]? x = piece.TakeSurroundings(state);
        return x is null ? (null, new("what surrounds the oscillator has no answer at rest", Oscillator.Name, 0, 0)) : (x, null);
    }

    /// <summary>How a figure answers to f of every row of the voice outside the oscillator, given how it answers to those of
    /// its own; at the note of the last start.</summary>
    internal double[] OutsideAdjoint(double[] ofOwn) => piece.OutsideAdjoint(ofOwn);

    /// <summary>Reads the frequency at a keyboard voltage, Hz; NaN when it does not oscillate.</summary>
    public (double Hertz, SolveFailure? Failure) Read(double volts)
    {
        (double[]? x, SolveFailure? failure) = Start(volts);
        if (x is null)
            return (double.NaN, failure);
        Transient run = Run();
        double end = PlayedVoice.MostPeriods / Oscillator.IdealHertz(volts);
        (PeriodCount[] counts, SolveFailure? failed) = PeriodCount.Follow(run, x, 1, end);
        Steps += run.Steps;
        Periods += counts[0].Crossings.Count;
        return failed is null ? (1 / counts[0].Period, null) : (double.NaN, failed);
    }

    /// <summary>Its frequencies at several voltages, Hz.</summary>
    internal (double[]? Hertz, SolveFailure? Failure) Read(IReadOnlyList<double> volts)
    {
        double[] hertz = new double[volts.Count];
        for (int i = 0; i < hertz.Length; i++)
        {
            (hertz[i], SolveFailure? failure) = Read(volts[i]);
            if (failure is not null)
                return (null, failure);
        }
        return (hertz, null);
    }

    /// <summary>A new run of the piece; it eliminates in the order of the first one, so that bits do not depend on what
    /// was run before.</summary>
    public Transient Run(Accuracy? accuracy = null)
    {
        piece.Circuit.MotionProgram = program;
        return new(piece.Circuit, accuracy ?? voice.Accuracy, [probe]);
    }

    /// <summary>A run whose steps can be kept on a tape.</summary>
    internal Transient TapedRun() => Run(voice.Accuracy.Taped);

    /// <summary>Accepted steps of all readings.</summary>
    public long Steps { get; private set; }

    /// <summary>Periods counted in all readings.</summary>
    public long Periods { get; private set; }
}
