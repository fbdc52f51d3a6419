using System.Collections.Immutable;
using Consort.Engine.Circuit;
using Consort.Engine.Circuit.Motion;
using Consort.Engine.Circuit.Rest;
using Consort.Engine.Circuit.Signal;
using Consort.Engine.Pitch;
using Consort.Engine.Pitch.Locking;

namespace Consort.Engine.Sound.Noise;

/// <summary>Reads what noise does to an oscillator's period: of its own parts over a whole period of its full circuit, of the
/// rest of the voice as the period follows it slowly.</summary>
internal static class PeriodNoiseReader
{
    private const int Cycles = 6; // periods before the one that is read

    // A switch that opens leaves behind what its noise was in the last nanoseconds: no longer steps while one turns, s.
    private const double Turning = 1e-9;

    /// <summary>Of one oscillator of a voice, with all that reaches it over link and cords.</summary>
    public static (PeriodNoise? Noise, SolveFailure? Failure) Read(PlayedVoice voice, SoloOscillator solo, double volts)
    {
        (RestState? state, SolveFailure? failure) = voice.Rest(volts);
        if (state is null)
            return (null, failure);
        (double[]? x, failure) = solo.Start(state);
        if (x is null)
            return (null, failure);
        (Sweep? sweep, failure) = Sweep.Over(solo.Circuit, solo.TapedRun(), solo.Probe, x, 1 / solo.Oscillator.IdealHertz(volts));
        if (sweep is null)
            return (null, failure);
        return (sweep.Noise(volts, Outside(voice, solo, state, sweep)), null);
    }

    /// <summary>Of a circuit by itself.</summary>
    /// <param name="ideal">About how long a period takes, s.</param>
    public static (PeriodNoise? Noise, SolveFailure? Failure) Read(Engine.Circuit.Circuit circuit, Transient run, Probe probe, double[] x, double ideal)
    {
        (Sweep? sweep, SolveFailure? failure) = Sweep.Over(circuit, run, probe, x, ideal);
        return (sweep?.Noise(0, []), failure);
    }

    // Parts of the oscillator itself are passed over. What comes from outside is white as far as a period can tell.
    private static IEnumerable<NoiseCause> Outside(PlayedVoice voice, SoloOscillator solo, RestState state, Sweep sweep)
    {
        double[] adjoint = solo.OutsideAdjoint(sweep.ByCurrent);
        state.X.CopyTo(voice.Circuit.Pass.X, 0);
        voice.Circuit.Evaluate(0, Regime.Rest);
        foreach (PartBank bank in voice.Circuit.Banks)
            for (int i = 0; i < bank.Count; i++)
            {
                if (solo.Circuit.Has(bank.Parts[i].Name))
                    continue;
                NoiseList list = new();
                bank.Noise(voice.Circuit.Pass, i, list);
                foreach (NoiseSource source in list.Sources)
                {
                    double share = (adjoint[source.From] - adjoint[source.To]) / sweep.Period;
                    double walk = 0.5 * share * share * source.White * sweep.Period;
                    if (walk > 0)
                        yield return new(source.Name, walk, walk, share * share * source.White * source.Corner, share * Math.Sqrt(source.White));
                }
            }
    }

    /// <summary>A sweep of the adjoint over a period.</summary>
    private sealed class Sweep(NoiseTally tally, OrbitSensitivity orbit, double period)
    {
        public double Period => period;

        public double[] ByCurrent => orbit.ByCurrent;

        public static (Sweep?, SolveFailure?) Over(Engine.Circuit.Circuit circuit, Transient run, Probe probe, double[] x, double ideal)
        {
            StepLimit limit = new(ideal);
            ISwitching[] switches = [.. circuit.Banks.OfType<ISwitching>()];
            double Longest(Transient at) => Math.Min(limit.Longest(at), switches.Any(bank => bank.Moves(at.Time)) ? Turning : double.PositiveInfinity);
            (TapedPeriods? taped, SolveFailure? failure) = TapedPeriods.Follow(circuit, run, x, Cycles, PlayedVoice.MostPeriods * ideal, Longest);
            if (taped is null)
                return (null, failure ?? new("it does not oscillate, so its noise cannot be read", circuit.Unknowns[probe.Net].Name, PlayedVoice.MostPeriods * ideal, 0));
            NoiseTally tally = new(circuit, run.Tableau, taped.Start, taped.Period, Cycles);
            OrbitSensitivity orbit = new(circuit, run.Tableau, [probe], []) { Swept = tally.Take };
            orbit.OfInterval(run.Tape!, taped.Steps[^2], taped.Steps[^1]);
            run.Tape = null;
            return (new(tally, orbit, taped.Period), null);
        }

        public PeriodNoise Noise(double volts, IEnumerable<NoiseCause> outside)
        {
            NoiseCause[] causes = [.. tally.Causes, .. outside];
            PeriodNoise noise = new(
                volts,
                1 / period,
                Math.Sqrt(causes.Sum(cause => cause.Jitter)),
                Math.Sqrt(causes.Sum(cause => cause.Walk)),
                causes.Sum(cause => cause.Flicker),
                [],
                Math.Max(orbit.Truncation, orbit.PhaseError)
            );
            return noise with { Causes = [.. causes.OrderByDescending(noise.ShareOf).ThenBy(cause => cause.Source, StringComparer.Ordinal)] };
        }
    }
}
