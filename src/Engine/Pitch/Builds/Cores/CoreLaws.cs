using Consort.Engine.Circuit;
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
    private readonly PartPlace[] trimmers = [.. paths.Trimmers.Select(trimmer => trimmer.Place)];

    /// <summary>One law for each oscillator.</summary>
    public (CoreLaw[]? Laws, SolveFailure? Failure) Find()
    {
        int count = voice.Oscillators.Length;
        CoreReadings[] readings = [.. paths.Plans.Select((plan, o) => new CoreReadings(plan.Kelvins, plan.Volts, Absolute(plan.Currents), hertz[o]))];
        int[] alike = [.. Enumerable.Range(0, count).Select(FirstAlike)];
        int[] own = [.. alike.Distinct()];
        int[] known = KnownNotes(paths.Plans[0].Volts);
        (CoreFindings? Law, SolveFailure? Failure)[] found = new (CoreFindings?, SolveFailure?)[count];
        ParallelWork.Each(
            own.Length,
            threads,
            i => found[own[i]] = new CoreSurvey(voice.Twin(), paths.Draws, trimmers, voice.Oscillators[own[i]], readings[own[i]], known, paths.Plans[own[i]].Reach.Weights).Run(),
            voice.Cancel
        );
        if (own.Select(o => found[o].Failure).FirstOrDefault(f => f is not null) is { } failure)
            return (null, failure);
        return ([.. Enumerable.Range(0, count).Select(o => Law(o, alike[o], found[alike[o]].Law!, readings[o]))], null);
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

    // The first oscillator of the same module in the same place of a link whose controls stand alike.
    private int FirstAlike(int o)
    {
        for (int other = 0; other < o; other++)
            if (IsAlike(voice.Oscillators[o].Member, voice.Oscillators[other].Member))
                return other;
        return o;
    }

    private bool IsAlike(Design.Member a, Design.Member b)
    {
        HashSet<string> trimmed = [.. a.Module.Trims.Where(step => step.Purpose != Design.TrimPurpose.Other).Select(step => step.Trimmer)];
        bool Differs(KeyValuePair<string, double> set, Design.Member other) =>
            !trimmed.Contains(set.Key) && (!other.Set.TryGetValue(set.Key, out double value) || value != set.Value);
        return a.Module == b.Module
            && !a.Set.Any(set => Differs(set, b))
            && !b.Set.Any(set => Differs(set, a))
            && IsLead(a) == IsLead(b)
            && IsFollower(a) == IsFollower(b);
    }

    private bool IsLead(Design.Member member) => voice.Voice.Ribbons.Any(ribbon => ribbon.From.Owner == member.Name);

    private bool IsFollower(Design.Member member) => voice.Voice.Ribbons.Any(ribbon => ribbon.To.Any(to => to.Owner == member.Name));

    private CoreLaw Law(int o, int source, CoreFindings found, CoreReadings readings)
    {
        int[] from = From(voice.Oscillators[o].Name, voice.Oscillators[source].Name);
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
            Weights = ByNote(readings, (k, n) => weights[k].At(readings.Currents[k][n])),
            WeightSlopes = ByNote(readings, (k, n) => weights[k].SlopesAt(readings.Currents[k][n])),
            Tilts = ByNote(readings, readings.Tilt),
            Cents = ByNote(readings, (k, n) => voice.Oscillators[o].Cents(readings.Volts[n], readings.Hertz[k][n])),
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

    // For every φ of the voice the one that plays its part for the oscillator that was surveyed; −1 for none.
    private int[] From(string name, string source)
    {
        if (name == source)
            return [.. Enumerable.Range(0, paths.Draws.Parameters.Length + trimmers.Length)];
        Dictionary<(string, string), int> places = [];
        for (int p = 0; p < paths.Draws.Parameters.Length; p++)
            places[(paths.Draws.Parameters[p].Part.Name, paths.Draws.Parameters[p].Word)] = p;
        for (int t = 0; t < trimmers.Length; t++)
            places[(trimmers[t].Bank.Parts[trimmers[t].Index].Name, "position")] = paths.Draws.Parameters.Length + t;
        int[] from = new int[paths.Draws.Parameters.Length + trimmers.Length];
        foreach (((string part, string word), int p) in places)
            from[p] =
                part.StartsWith(source + "/", StringComparison.Ordinal) ? -1
                : part.StartsWith(name + "/", StringComparison.Ordinal) ? places.GetValueOrDefault((source + part[name.Length..], word), -1)
                : p;
        return from;
    }
}
