using Consort.Engine.Circuit.Motion;
using Consort.Engine.Circuit.Rest;
using Consort.Engine.Circuit.Signal;
using Consort.Engine.Circuit;
using Consort.Engine.Quantities;

namespace Consort.Engine.Pitch.Budgets;

/// <summary>
/// How one oscillator's pitch at one note answers to parameters, cents per SI unit. For parts of the oscillator itself
/// the exact derivative of its period along the orbit; for parts outside it, and so for the wiring, what they change in the
/// currents at its jacks, link and supply at rest, times the period's derivative by these currents along the orbit.
/// One for each state of the voice: what was learnt of parameters and temperature at the first note is kept for the next.
/// </summary>
internal sealed class PitchSlopes
{
    private const int Cycles = 2;

    private readonly PlayedVoice voice;
    private readonly SoloOscillator solo;
    private readonly ParameterSlope atRest;
    private OrbitSensitivity? orbit;
    private List<ParameterPlace> swept = [];

    public PitchSlopes(PlayedVoice voice, SoloOscillator solo)
    {
        (this.voice, this.solo) = (voice, solo);
        atRest = new(voice.Circuit);
    }

    /// <summary>Share of an adjoint that was lost over a period or cut off at the start of the run, largest so far.</summary>
    public double Truncation { get; private set; }

    /// <summary>The slopes at a note; by place in <paramref name="wanted"/> (places in the voice's circuit).</summary>
    public (double[]? Slopes, double Hertz, SolveFailure? Failure) At(double volts, IReadOnlyList<ParameterPlace> wanted)
    {
        (RestState? state, SolveFailure? failure) = voice.Rest(volts);
        if (state is null)
            return (null, double.NaN, failure);
        List<int> inside = [];
        List<ParameterPlace> own = [];
        for (int i = 0; i < wanted.Count; i++)
        {
            string name = wanted[i].Part.Bank.Parts[wanted[i].Part.Index].Name;
            if (!solo.Circuit.Has(name))
                continue;
            inside.Add(i);
            own.Add(new(solo.Circuit.Find(name), wanted[i].Word));
        }
        (double[]? inMotion, double[] byCurrent, double hertz, SolveFailure? failed) = InMotion(state, volts, own);
        if (inMotion is null)
            return (null, hertz, failed);
        double[] slopes = Outside(state, byCurrent, wanted);
        for (int k = 0; k < inside.Count; k++)
            slopes[inside[k]] = inMotion[k];
        return (slopes, hertz, null);
    }

    // Parts of the oscillator itself are passed over.
    private double[] Outside(RestState state, double[] byCurrent, IReadOnlyList<ParameterPlace> wanted)
    {
        double[] adjoint = solo.OutsideAdjoint(byCurrent);
        double[] slopes = new double[wanted.Count];
        for (int i = 0; i < slopes.Length; i++)
        {
            if (solo.Circuit.Has(wanted[i].Part.Bank.Parts[wanted[i].Part.Index].Name))
                continue;
            atRest.At(wanted[i].Part, wanted[i].Word, state.X, 0, Regime.Rest);
            slopes[i] = atRest.Project(adjoint, adjoint, 0);
        }
        return slopes;
    }

    // Both in cents: for every parameter, and for an ampere out of every net.
    private (double[]? Slopes, double[] ByCurrent, double Hertz, SolveFailure? Failure) InMotion(
        RestState state,
        double volts,
        List<ParameterPlace> own
    )
    {
        (double[]? x, SolveFailure? failure) = solo.Start(state);
        if (x is null)
            return (null, [], double.NaN, failure);
        double end = PlayedVoice.MostPeriods / solo.Oscillator.IdealHertz(volts);
        (TapedPeriods? taped, SolveFailure? failed) = TapedPeriods.Follow(solo.Circuit, solo.TapedRun(), x, Cycles, end);
        if (taped is null)
            return (null, [], double.NaN, failed ?? new($"{solo.Oscillator.Name} does not oscillate", solo.Oscillator.Spec.Net, end, 0));
        Transient run = taped.Run;
        double period = taped.Period;
        if (orbit is null || !own.SequenceEqual(swept))
            (orbit, swept) = (new(solo.Circuit, run.Tableau, [solo.Probe], own), own);
        double[] seconds = orbit.OfInterval(run.Tape!, taped.Steps[^2], taped.Steps[^1]);
        Truncation = Math.Max(Truncation, Math.Max(orbit.Truncation, orbit.PhaseError));
        double scale = -Cents.PerNeper / period;
        return ([.. seconds.Select(s => scale * s)], [.. orbit.ByCurrent.Select(s => scale * s)], 1 / period, null);
    }
}
