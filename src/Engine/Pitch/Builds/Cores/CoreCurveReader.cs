using Consort.Engine.Circuit;
using Consort.Engine.Circuit.Rest;
using Consort.Engine.Pitch.Builds.Draws;
using Consort.Engine.Quantities;

namespace Consort.Engine.Pitch.Builds.Cores;

/// <summary>Reads a core with movers really moved.</summary>
/// <param name="voice">In its design state; nobody else uses it.</param>
/// <param name="draws">What differs between builds.</param>
/// <param name="trimmers">Those of the voice.</param>
/// <param name="oscillator">Which one.</param>
/// <param name="readings">Its charge law in the design.</param>
internal sealed class CoreCurveReader(PlayedVoice voice, DrawPlan draws, PartPlace[] trimmers, Oscillator oscillator, CoreReadings readings)
{
    private readonly SoloOscillator solo = new(voice, oscillator);

    /// <summary>Must be called first.</summary>
    public SolveFailure? Prepare() => solo.Prepare(voice.MiddleVolts);

    /// <summary>By how much U differs from the design's U₀ at the same current, at some notes, cents, and the currents, A. No number
    /// where the core stops.</summary>
    public (double[]? Moved, double[] Currents, SolveFailure? Failure) Read(IReadOnlyList<(Mover Mover, double D)> stand, int[] notes)
    {
        foreach ((Mover mover, double d) in stand)
            mover.Move(voice.Circuit, draws, trimmers, d);
        solo.TakeParameters();
        (double[] moved, double[] currents) = (new double[notes.Length], new double[notes.Length]);
        SolveFailure? failure = null;
        for (int i = 0; i < notes.Length && failure is null; i++)
            failure = ReadNote(notes[i], out moved[i], out currents[i]);
        foreach ((Mover mover, _) in stand)
            mover.Move(voice.Circuit, draws, trimmers, 0);
        solo.TakeParameters();
        return (failure is null ? moved : null, currents, failure);
    }

    private SolveFailure? ReadNote(int n, out double moved, out double current)
    {
        (moved, current) = (double.NaN, double.NaN);
        (RestState? state, SolveFailure? failure) = voice.Rest(readings.Volts[n]);
        if (state is null)
            return failure;
        current = TimingCapacitor.Size(voice.Circuit, oscillator.TimingCapacitor, state);
        (double hertz, failure) = solo.Read(readings.Volts[n]);
        moved = Cents.PerNeper * Math.Log(current / hertz) - readings.ChargeAt(0, n, current);
        return failure;
    }
}
