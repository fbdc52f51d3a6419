using Consort.Engine.Circuit;
using Consort.Engine.Circuit.Rest;
using Consort.Engine.Circuit.Signal;
using Consort.Engine.Pitch.Budgets;
using Consort.Engine.Pitch.Builds.Draws;
using Consort.Engine.Pitch.Builds.PitchPath;
using Consort.Engine.Quantities;

namespace Consort.Engine.Pitch.Builds.Cores;

/// <summary>What parameters do to an oscillator's charge law at one note.</summary>
/// <param name="Amperes">Its timing current at rest, A.</param>
/// <param name="Core">∂U/∂φ at that current, cents.</param>
/// <param name="Rest">What the same φ do to the timing current, cents.</param>
internal sealed record CoreReading(double Amperes, double[] Core, double[] Rest);

/// <summary>
/// Reads what parameters do in an oscillator's core, apart from what they do to its timing current: the slope of its pitch
/// along the orbit, less the slope of the current at rest. For a voice at one state; what its first note taught is kept.
/// </summary>
internal sealed class CoreSlopes
{
    private readonly PlayedVoice voice;
    private readonly Oscillator oscillator;
    private readonly DrawPlan draws;
    private readonly ParameterPlace[] places; // of what is wanted
    private readonly int count;
    private readonly PitchSlopes orbit;

    private readonly int[] wanted;

    /// <summary>For one state of a voice.</summary>
    /// <param name="voice">The voice.</param>
    /// <param name="solo">The oscillator, with the voice's parameters.</param>
    /// <param name="draws">What differs between builds.</param>
    /// <param name="trimmers">The voice's.</param>
    /// <param name="wanted">φ that are read; all others count as nothing.</param>
    public CoreSlopes(PlayedVoice voice, SoloOscillator solo, DrawPlan draws, PartPlace[] trimmers, int[] wanted)
    {
        this.wanted = wanted;
        (this.voice, oscillator, this.draws) = (voice, solo.Oscillator, draws);
        ParameterPlace[] all =
        [
            .. draws.Parameters.Select(p => new ParameterPlace(voice.Circuit.Find(p.Part.Name), p.Word)),
            .. trimmers.Select(t => new ParameterPlace(voice.Circuit.Find(t.Bank.Parts[t.Index].Name), "position")),
        ];
        places = [.. wanted.Select(p => all[p])];
        count = all.Length;
        orbit = new(voice, solo);
    }

    /// <summary>The slopes at a note.</summary>
    /// <param name="volts">Keyboard voltage, V.</param>
    /// <param name="tilt">dU/d ln I of the design there, as a share: a current that rises by e does not raise the pitch by all of
    /// e.</param>
    public (CoreReading? Reading, SolveFailure? Failure) At(double volts, double tilt)
    {
        (double[]? inMotion, _, SolveFailure? failure) = orbit.At(volts, places);
        if (inMotion is null)
            return (null, failure);
        (RestState? state, failure) = voice.Rest(volts);
        if (state is null)
            return (null, failure);
        int branch = TimingCapacitor.Branch(voice.Circuit, oscillator.TimingCapacitor);
        if (RestSensitivity.At(voice.Circuit, state) is not { } sensitivity)
            return (null, new("the rest has no slope", oscillator.TimingCapacitor, 0, 0));
        double[] adjoint = sensitivity.Adjoint((branch, Cents.PerNeper / state.X[branch]));
        PartSlopes rows = new(voice.Circuit);
        double[] rest = new double[count];
        double[] core = new double[count];
        for (int i = 0; i < places.Length; i++)
        {
            int p = wanted[i];
            double perPhi = PerPhi(p);
            rest[p] = -perPhi * rows.At(places[i].Part, places[i].Word, state.X).Project(adjoint);
            core[p] = (1 - tilt) * rest[p] - perPhi * inMotion[i];
        }
        return (new(Math.Abs(state.X[branch]), core, rest), null);
    }

    // Of the parameter by its φ.
    private double PerPhi(int p) =>
        p >= draws.Parameters.Length || draws.Parameters[p].Move == MoveKind.Added
            ? 1
            : voice.Circuit[draws.Parameters[p].Part.Name, draws.Parameters[p].Word];
}
