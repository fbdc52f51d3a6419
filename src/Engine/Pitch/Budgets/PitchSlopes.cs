using Consort.Engine.Circuit;
using Consort.Engine.Circuit.Motion;
using Consort.Engine.Circuit.Rest;
using Consort.Engine.Circuit.Signal;

namespace Consort.Engine.Pitch.Budgets;

/// <summary>
/// How one oscillator's pitch at one note answers to parameters, cents per SI unit. For parts of the oscillator itself
/// the exact derivative of its period along the orbit; for parts outside it, and so for the wiring, the derivative of
/// its timing current at rest times d(ln f)/d(ln I), which the orbit gives.
/// </summary>
internal sealed class PitchSlopes
{
    private const double CentsPerNeper = 1200 / 0.693147180559945309417;
    private const int Cycles = 2;

    private readonly PlayedVoice voice;
    private readonly SoloOscillator solo;
    private ParameterProjection? projection;

    public PitchSlopes(PlayedVoice voice, SoloOscillator solo) => (this.voice, this.solo) = (voice, solo);

    /// <summary>Share of an adjoint that was lost over a period or cut off at the start of the run, largest so far.</summary>
    public double Truncation { get; private set; }

    /// <summary>The slopes at a note; by place in <paramref name="wanted"/> (places in the voice's circuit).</summary>
    public (double[]? Slopes, double Hertz, SolveFailure? Failure) At(double volts, IReadOnlyList<ParameterPlace> wanted)
    {
        (RestState? state, SolveFailure? failure) = voice.Rest(volts);
        if (state is null)
            return (null, double.NaN, failure);
        double[] atRest = AtRest(state, wanted);
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
        (double[]? inMotion, double hertz, SolveFailure? failed) = InMotion(volts, own);
        if (inMotion is null)
            return (null, hertz, failed);
        double grip = Grip(inside, atRest, inMotion);
        double[] slopes = [.. atRest.Select(slope => grip * slope)];
        for (int k = 0; k < inside.Count; k++)
            slopes[inside[k]] = inMotion[k];
        return (slopes, hertz, null);
    }

    private double[] AtRest(RestState state, IReadOnlyList<ParameterPlace> wanted)
    {
        if (RestSensitivity.At(voice.Circuit, state) is not { } sensitivity)
            return new double[wanted.Count];
        int branch = TimingCapacitor.Branch(voice.Circuit, solo.Oscillator.TimingCapacitor);
        double[] adjoint = sensitivity.Adjoint((branch, CentsPerNeper / state.X[branch]));
        return [.. wanted.Select(place => sensitivity.Of(adjoint, place.Part, place.Word))];
    }

    // d(ln f)/d(ln I): the same parameter's slope in motion over that at rest, where it is largest and so best known.
    private double Grip(List<int> inside, double[] atRest, double[] inMotion)
    {
        double best = 0;
        double grip = 1;
        for (int k = 0; k < inside.Count; k++)
        {
            double rest = atRest[inside[k]];
            double ratio = rest == 0 ? 0 : inMotion[k] / rest;
            // A part inside the core answers in motion only; one in the pitch path answers nearly alike in both.
            if (ratio is > 0.5 and < 1.2 && Math.Abs(rest) > best)
                (best, grip) = (Math.Abs(rest), ratio);
        }
        return grip;
    }

    private (double[]? Slopes, double Hertz, SolveFailure? Failure) InMotion(double volts, List<ParameterPlace> own)
    {
        (double[]? x, SolveFailure? failure) = solo.Start(volts);
        if (x is null)
            return (null, double.NaN, failure);
        Transient run = solo.Run();
        run.Tape = new(solo.Circuit);
        run.Start(x);
        List<int> crossings = [];
        double end = PlayedVoice.MostPeriods / solo.Oscillator.IdealHertz(volts);
        while (crossings.Count <= Cycles && run.Time < end)
        {
            int before = run.Crossings.Count;
            if (run.Step(end) is { } failed)
                return (null, double.NaN, failed);
            if (run.Crossings.Count > before)
                crossings.Add(run.Tape.Steps.Count - 1);
        }
        if (crossings.Count <= Cycles)
            return (null, double.NaN, new($"{solo.Oscillator.Name} does not oscillate", solo.Oscillator.Spec.Net, run.Time, 0));
        double period = run.Crossings[^1].Time - run.Crossings[^2].Time;
        // Every note of a budget asks for the same parameters: what is known of them beforehand is worked out once.
        if (projection is null || !projection.Parameters.AsSpan().SequenceEqual(own.ToArray()))
            projection = new(solo.Circuit, [.. own]);
        OrbitSensitivity orbit = new(solo.Circuit, run.Tableau, run.Tape, [solo.Probe], projection);
        double[] seconds = orbit.OfInterval(crossings[^2], crossings[^1]);
        Truncation = Math.Max(Truncation, Math.Max(orbit.Truncation, orbit.PhaseError));
        return ([.. seconds.Select(s => -CentsPerNeper * s / period)], 1 / period, null);
    }
}
