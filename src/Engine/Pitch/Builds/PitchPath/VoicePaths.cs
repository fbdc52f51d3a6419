using Consort.Engine.Circuit.Rest;
using Consort.Engine.Circuit;
using Consort.Engine.Design;
using Consort.Engine.Pitch.Builds.Draws;
using Consort.Engine.Pitch.Builds.Lanes;
using Consort.Engine.Quantities;

namespace Consort.Engine.Pitch.Builds.PitchPath;

/// <summary>A trimmer that sets pitch, and whose it is.</summary>
/// <param name="Oscillator">Place of its oscillator in the voice.</param>
/// <param name="Step">What it is for.</param>
/// <param name="Place">Where it lives in the voice's circuit.</param>
internal sealed record PitchTrimmer(int Oscillator, TrimStep Step, PartPlace Place);

/// <summary>The pitch paths of all oscillators of a voice, about the design as it stands: trimmed or not.</summary>
internal sealed class VoicePaths
{
    private readonly PlayedVoice voice;

    private VoicePaths(PlayedVoice voice, DrawPlan draws, PitchTrimmer[] trimmers, PathPlan[] plans) =>
        (this.voice, Draws, Trimmers, Plans) = (voice, draws, trimmers, plans);

    /// <summary>What differs between builds.</summary>
    public DrawPlan Draws { get; }

    /// <summary>All trimmers that set pitch.</summary>
    public PitchTrimmer[] Trimmers { get; }

    /// <summary>One for each oscillator.</summary>
    public PathPlan[] Plans { get; }

    /// <summary>Finds them.</summary>
    /// <param name="voice">A prepared voice; it comes back at the first temperature.</param>
    /// <param name="stock">The shelf that its parts come from.</param>
    /// <param name="kelvins">Temperatures, K, the bench's first.</param>
    /// <param name="volts">Keyboard voltages, V.</param>
    /// <param name="change">Changes the plan of draws; null leaves it.</param>
    public static (VoicePaths? Paths, SolveFailure? Failure) Find(
        PlayedVoice voice,
        Stock stock,
        double[] kelvins,
        double[] volts,
        Func<DrawPlan, DrawPlan>? change = null
    )
    {
        DrawPlan draws = DrawPlanner.Plan(voice.Circuit, stock);
        draws = change?.Invoke(draws) ?? draws;
        PitchTrimmer[] trimmers = [.. FindTrimmers(voice)];
        PartPlace[] places = [.. trimmers.Select(trimmer => trimmer.Place)];
        (RestPoints? points, SolveFailure? failure) = RestPoints.Find(voice, kelvins, volts);
        if (points is null)
            return (null, failure);
        RestAnswers answers = new(voice, points, draws, places);
        (double[][]? inBuilds, SolveFailure? failed) = CornerWeights.Find(voice, draws, places, kelvins);
        if (inBuilds is null)
            return (null, failed);
        PathPlan[] plans = PathPlanner.Plan(voice, answers, draws, places, inBuilds);
        double[] heaviest = [.. draws.Parameters.Select((p, i) => plans.Max(plan => plan.Reach.Weights[i]) / p.Terms.Sum(term => term.HalfWidth))];
        return (new(voice, draws.Ranked(heaviest), trimmers, plans), null);
    }

    private static IEnumerable<PitchTrimmer> FindTrimmers(PlayedVoice voice)
    {
        for (int o = 0; o < voice.Oscillators.Length; o++)
            foreach (TrimStep step in voice.Oscillators[o].Member.Module.Trims)
                if (step.Purpose != TrimPurpose.Other)
                    yield return new(o, step, voice.Circuit.Find(voice.Oscillators[o].Part(step.Trimmer)));
    }

    /// <summary>A kernel for an oscillator's path, for one thread.</summary>
    public PathKernel<T> Kernel<T>(int oscillator)
        where T : struct, ILanes<T> => new(Plans[oscillator], voice.Twin().Circuit);

    /// <summary>Compares the paths with the whole circuit at rest: largest disagreement over some builds with trimmers anywhere,
    /// at the lowest, middle and highest note of every temperature, cents.</summary>
    public (double Cents, SolveFailure? Failure) Disagreement(UnitPoints points, int builds)
    {
        PlayedVoice twin = voice.Twin();
        PathKernel<One>[] kernels = [.. Plans.Select((_, o) => Kernel<One>(o))];
        double[] departures = new double[Draws.Parameters.Length];
        One[] positions = new One[Trimmers.Length];
        RandomBits turns = new(7);
        double worst = 0;
        for (int build = 0; build < builds; build++)
        {
            Draws.Departures(points, build, 1, departures);
            for (int t = 0; t < positions.Length; t++)
            {
                positions[t] = new(0.2 + 0.6 * RandomBits.Share(turns.At((ulong)(build * positions.Length + t))));
                twin.Circuit[Trimmers[t].Place.Bank.Parts[Trimmers[t].Place.Index].Name, "position"] = positions[t].Value;
            }
            for (int k = 0; k < Plans[0].Kelvins.Length; k++)
            {
                twin.Circuit.SetTemperature(Plans[0].Kelvins[k]);
                CornerWeights.Build(twin, Draws, departures);
                foreach (int n in (int[])[0, Plans[0].Points.Middle, Plans[0].Volts.Length - 1])
                {
                    (RestState? state, SolveFailure? failure) = twin.Rest(Plans[0].Volts[n]);
                    if (state is null)
                        return (double.NaN, failure);
                    for (int o = 0; o < kernels.Length; o++)
                        worst = Worse(worst, Math.Abs(Cents(kernels[o], o, departures, positions, k, n) - Truth(state, o, k, n)));
                }
            }
        }
        return (worst, null);
    }

    // No number is worst of all.
    private static double Worse(double worst, double other) => other <= worst ? worst : other;

    private double Truth(RestState state, int o, int k, int n) =>
        Quantities.Cents.PerNeper * Math.Log(state.X[Plans[o].Reach.Branch] / Plans[o].Currents[k][n]);

    private double Cents(PathKernel<One> kernel, int o, double[] departures, One[] positions, int k, int n)
    {
        kernel.Take([.. Plans[o].Reach.Parameters.Select(p => new One(departures[p]))]);
        kernel.SetTemperature(k);
        kernel.Turn(positions);
        kernel.Forget();
        return Quantities.Cents.PerNeper * kernel.Read(n).Value;
    }
}
