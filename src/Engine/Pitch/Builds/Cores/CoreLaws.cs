using Consort.Engine.Circuit;
using Consort.Engine.Design;
using Consort.Engine.Pitch.Builds.Draws;
using Consort.Engine.Pitch.Builds.PitchPath;

namespace Consort.Engine.Pitch.Builds.Cores;

/// <summary>Finds the core laws of all oscillators of a voice.</summary>
/// <param name="voice">A prepared voice, trimmed as its design is.</param>
/// <param name="paths">Its pitch paths.</param>
/// <param name="hertz">What its transients gave, by oscillator, temperature and note of the paths.</param>
/// <param name="threads">How many threads may work; the result does not depend on it.</param>
internal sealed class CoreLaws(PlayedVoice voice, VoicePaths paths, double[][][] hertz, int threads)
{
    // By so little, cents, do the charge laws of one core lie apart whose trimmers stand elsewhere; half a pF in 2.2 nF is 0.4 cent.
    private const double Alike = 0.1;

    private readonly PartPlace[] trimmers = [.. paths.Trimmers.Select(trimmer => trimmer.Place)];

    private readonly CoreReadings[] readings = [.. paths.Plans.Select((plan, o) => new CoreReadings(plan.Kelvins, plan.Volts, Absolute(plan.Currents), hertz[o]))];

    /// <summary>The voice.</summary>
    public PlayedVoice Voice => voice;

    /// <summary>Its pitch paths.</summary>
    public VoicePaths Paths => paths;

    /// <summary>One law for each oscillator, from a survey of each kind of core.</summary>
    public (CoreLaw[]? Laws, SolveFailure? Failure) Find()
    {
        int[] firsts = CoreKind.Firsts(voice);
        int[] own = [.. firsts.Distinct()];
        (KnownCore? Core, SolveFailure? Failure)[] found = new (KnownCore?, SolveFailure?)[firsts.Length];
        ParallelWork.Each(own.Length, threads, i => found[own[i]] = Survey(own[i]), voice.Cancel);
        return own.Select(o => found[o].Failure).FirstOrDefault(f => f is not null) is { } failure
            ? (null, failure)
            : (By(o => found[firsts[o]].Core!), null);
    }

    /// <summary>One law for each oscillator, from what is known of a core like its own.</summary>
    public CoreLaw[] By(Func<int, KnownCore> core) => [.. Enumerable.Range(0, readings.Length).Select(o => Law(o, core(o)))];

    /// <summary>Surveys one oscillator's core.</summary>
    public (KnownCore? Core, SolveFailure? Failure) Survey(int o)
    {
        CoreSurvey survey = new(voice.Twin(), paths.Draws, trimmers, voice.Oscillators[o], readings[o], KnownNotes(paths.Plans[0].Volts), paths.Plans[o].Reach.Weights);
        (CoreFindings? findings, SolveFailure? failure) = survey.Run();
        return findings is null ? (null, failure) : (new(voice.Oscillators[o].Name, paths.Draws, trimmers, readings[o], findings), null);
    }

    /// <summary>True when a core that was surveyed in another voice tells of this one: nothing outside its module acts in it, and
    /// all that moves it far has its like here.</summary>
    public bool Serves(KnownCore core, int o)
    {
        int[] from = core.Phis(voice.Oscillators[o].Name, paths.Draws, trimmers);
        return core.IsItsModulesOwn && core.Findings.Curves.All(curve => from.Contains(curve.Mover.Phis[0]));
    }

    /// <summary>The same of a core that was surveyed in another place of a link: its charge law over the keyboard must be this one's
    /// as well.</summary>
    public bool ServesElsewhere(KnownCore core, int o) => Serves(core, o) && Off(core, o) <= Alike;

    // By how much its charge law at the bench lies off a surveyed one's with the trimmers where they stand here, cents; no number
    // where that one was not read at all notes of this one.
    private double Off(KnownCore core, int o)
    {
        int[] phis = core.Phis(voice.Oscillators[o].Name, paths.Draws, trimmers)[paths.Draws.Parameters.Length..];
        (int, double)[] stand = [.. from t in Enumerable.Range(0, trimmers.Length) where phis[t] >= 0 select (phis[t], trimmers[t].Bank.Numbers("position")[trimmers[t].Index])];
        CoreReadings own = readings[o];
        return own.Volts.Select((volts, n) => Math.Abs(own.Charge(0, n) - core.Charge(volts, own.Currents[0][n], stand))).Max();
    }

    private static double[][] Absolute(double[][] currents) => [.. currents.Select(row => row.Select(Math.Abs).ToArray())];

    // The second, and from there in equal parts to the last but one: what lies at the very ends follows the same functions.
    private static int[] KnownNotes(double[] volts)
    {
        int last = volts.Length - 1;
        if (last < 4)
            return [.. Enumerable.Range(0, last + 1)];
        double low = volts[1];
        double step = (volts[last - 1] - low) / 3;
        return [.. Enumerable.Range(0, 4).Select(i => Nearest(volts, low + i * step)).Distinct()];
    }

    private static int Nearest(double[] volts, double wanted)
    {
        int best = 0;
        for (int n = 1; n < volts.Length; n++)
            if (Math.Abs(volts[n] - wanted) < Math.Abs(volts[best] - wanted))
                best = n;
        return best;
    }

    /// <summary>What oscillators have in common when one survey tells of all.</summary>
    public string Kind(int o) => CoreKind.Of(voice, o);

    private CoreLaw Law(int o, KnownCore core)
    {
        CoreFindings found = core.Findings;
        int[] from = core.Phis(voice.Oscillators[o].Name, paths.Draws, trimmers);
        CoreReadings own = readings[o];
        int drawn = paths.Draws.Parameters.Length;
        int[] phis = [.. Enumerable.Range(0, from.Length).Where(p => from[p] >= 0 && found.Acts[from[p]])];
        int[] parameters = [.. phis.Where(p => p < drawn)];
        int[] turning = [.. phis.Where(p => p >= drawn).Select(p => p - drawn)];
        CurrentWeights[] weights = [.. found.Currents.Select(currents => new CurrentWeights(currents))];
        return new()
        {
            Oscillator = voice.Oscillators[o],
            Parameters = parameters,
            Drawn = [.. parameters.Select(p => paths.Draws.Parameters[p])],
            Trimmers = turning,
            Positions = [.. turning.Select(t => trimmers[t].Bank.Numbers("position")[trimmers[t].Index])],
            Slopes = [.. found.Slopes.Select(atK => atK.Select(at => phis.Select(p => at[from[p]]).ToArray()).ToArray())],
            Movers = [.. found.Curves.Select(curve => Moved(curve, phis, from))],
            Pairs = found.Pairs,
            Weights = ByNote(own, (k, n) => weights[k].At(own.Currents[k][n])),
            WeightSlopes = ByNote(own, (k, n) => weights[k].SlopesAt(own.Currents[k][n])),
            Tilts = ByNote(own, own.Tilt),
            Cents = ByNote(own, (k, n) => voice.Oscillators[o].Cents(own.Volts[n], own.Hertz[k][n])),
        };
    }

    private static MovedLaw Moved(CoreCurve curve, int[] phis, int[] from) =>
        new(
            Array.FindIndex(phis, p => from[p] == curve.Mover.Phis[0]),
            1 / curve.Mover.HalfWidths[0],
            curve.Own,
            [.. curve.Others.Select(at => (phis.Select(p => at.First[from[p]]).ToArray(), phis.Select(p => at.Second[from[p]]).ToArray()))]
        );

    private static T[][] ByNote<T>(CoreReadings readings, Func<int, int, T> make) =>
        [.. readings.Kelvins.Select((_, k) => readings.Volts.Select((_, n) => make(k, n)).ToArray())];
}
