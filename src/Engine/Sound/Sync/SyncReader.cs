using System.Collections.Immutable;
using Consort.Engine.Circuit;
using Consort.Engine.Pitch;
using Consort.Engine.Scope;
using Consort.Engine.Sound.Laws;
using Consort.Engine.Sound.Oscillators;

namespace Consort.Engine.Sound.Sync;

/// <summary>
/// What the first oscillator does to the others where a cord or a link leads its wave to their sync inputs, read from the whole
/// voice in motion. First it runs a little slower than they do, so that it meets them at every phase; those whose periods
/// then differ are pulled, and for them the phase after a pull is sampled by the phase before it.
/// </summary>
/// <param name="voice">Prepared; it is left alone.</param>
/// <param name="low">Lowest control voltage that is played, V.</param>
/// <param name="high">Highest, V.</param>
/// <param name="outputs">Outputs that are heard, by oscillator.</param>
public sealed class SyncReader(PlayedVoice voice, double low, double high, ILookup<string, string> outputs)
{
    // The lead meets the others so many times in a period.
    private const int Meetings = 25;
    private const int Settling = 3; // crossings

    // Of a period: what moves them less is left out, like all by which oscillators pull each other unasked.
    private const double Least = 1e-3;

    // Marks that lie no further apart are one, their mean: how several of a kind hang on one bus.
    private const double Alike = 2e-3;

    private const double OnePitch = 0.5; // octaves within which a map holds
    private const double ThreePitches = 3;

    /// <summary>A law for each oscillator after the first; null for one that goes its own way.</summary>
    public (ImmutableArray<SyncLaw?> Laws, SolveFailure? Failure) Read()
    {
        (ImmutableArray<(int Oscillator, double Mark)> pulled, SolveFailure? failure) = Find();
        if (failure is not null)
            return ([], failure);
        List<(double Hertz, PhaseMap Map)>[] maps = [.. pulled.Select(_ => new List<(double, PhaseMap)>())];
        Dictionary<string, List<double>>[] lags = [.. pulled.Select(_ => new Dictionary<string, List<double>>())];
        foreach (double volts in pulled.IsEmpty ? [] : Pitches())
        {
            (ImmutableArray<Pulled> all, SolveFailure? unread) = Alone(pulled, volts);
            if (unread is not null)
                return ([], unread);
            (ImmutableArray<PullSamples> samples, SolveFailure? lost) = new MapSampler(voice.Twin(), volts, all).Read();
            if (lost is not null)
                return ([], lost);
            for (int i = 0; i < all.Length; i++)
            {
                maps[i].Add((1 / all[i].Period, samples[i].Map.Map));
                for (int k = 0; k < all[i].Outputs.Length; k++)
                    lags[i][all[i].Outputs[k].Output] = [.. lags[i].GetValueOrDefault(all[i].Outputs[k].Output, []), .. samples[i].Lags[k]];
            }
        }
        SyncLaw?[] laws = new SyncLaw?[voice.Oscillators.Length - 1];
        for (int i = 0; i < pulled.Length; i++)
            laws[pulled[i].Oscillator - 1] = new(pulled[i].Mark, [.. maps[i]]) { Lags = lags[i].Where(pair => pair.Value.Count > 0).ToImmutableDictionary(pair => pair.Key, pair => Math.Max(0, Median(pair.Value))) };
        return ([.. laws], null);
    }

    private static double Median(List<double> values) => values.Order().ElementAt(values.Count / 2);

    private double Middle => 0.5 * (low + high);

    private IEnumerable<double> Pitches()
    {
        double octaves = (high - low) / voice.Oscillators[0].Spec.VoltsPerOctave;
        return octaves < OnePitch ? [Middle] : octaves < ThreePitches ? [low, high] : [low, Middle, high];
    }

    // Which are pulled, and at which phase of the lead.
    private (ImmutableArray<(int, double)> Pulled, SolveFailure? Failure) Find()
    {
        PlayedVoice twin = voice.Twin();
        double period = (1 + 1.0 / Meetings) * voice.Oscillators.Skip(1).Max(one => 1 / one.IdealHertz(Middle));
        (LedVoice? led, SolveFailure? failure) = LedVoice.Start(twin, Middle, period);
        if (led is null)
            return ([], failure);
        List<(double, double)>[] traces = [.. voice.Oscillators.Select(_ => new List<(double, double)>())];
        (ImmutableArray<Channel> channels, _) = Channel.Find(twin.Voice, twin.Circuit, voice.Oscillators.Select(Counted));
        led.Seen = (time, x) =>
        {
            for (int i = 1; i < channels.Length; i++)
                traces[i].Add((time, channels[i].Volts(x)));
        };
        if ((Meet(led) ?? led.RunUntil(() => led.Times(0).Count >= Meetings + Settling, led.Time + (Meetings + Settling) * led.Period)) is { } broken)
            return ([], broken);
        List<(int Oscillator, double Mark)> pulled = [];
        for (int i = 1; i < voice.Oscillators.Length; i++)
        {
            if (!IsPulled(led.Times(i), led.Period))
                continue;
            (SteadyPeriod? own, SolveFailure? unread) = AloneAt(i, Middle, []);
            if (own is null)
                return ([], unread);
            double mark = double.IsFinite(own.Hertz) ? new PullFinder(new(own, 0)).Phase(led.Times(0), led.Times(i), traces[i]) : double.NaN;
            if (double.IsFinite(mark))
                pulled.Add((i, mark));
        }
        return (Together(pulled), null);
    }

    // A trimmed voice stands where it should; any other's periods are taken as they come.
    private SolveFailure? Meet(LedVoice led)
    {
        int[] others = [.. Enumerable.Range(1, voice.Oscillators.Length - 1)];
        if (led.RunUntil(() => Enumerable.Range(0, voice.Oscillators.Length).All(i => led.Times(i).Count >= Settling), led.Time + PlayedVoice.MostPeriods * led.Period) is { } failure)
            return failure;
        if (led.Times(0).Count < Settling)
            return new($"{voice.Oscillators[0].Name} does not oscillate", voice.Oscillators[0].Spec.Net, led.Time, 0);
        led.TakePeriod();
        double slowest = others.Where(i => led.Times(i).Count >= Settling).Select(i => led.Times(i)[^1] - led.Times(i)[^2]).DefaultIfEmpty(led.Period).Max();
        led.SetPeriod((1 + 1.0 / Meetings) * slowest);
        return null;
    }

    // One that goes its own way has periods that are all alike, and not the lead's.
    private static bool IsPulled(IReadOnlyList<double> counted, double lead)
    {
        double[] periods = [.. counted.Skip(Settling + 1).Zip(counted.Skip(Settling), (after, before) => after - before)];
        return periods.Length > 0 && (periods.Max() - periods.Min() > Least * periods.Max() || Math.Abs(periods.Average() / lead - 1) < Least);
    }

    private static ImmutableArray<(int, double)> Together(List<(int Oscillator, double Mark)> pulled)
    {
        double MeanNear(double mark)
        {
            double mean = mark + pulled.Select(other => PhaseMap.Short(other.Mark - mark)).Where(apart => Math.Abs(apart) < Alike).Average();
            return mean - Math.Floor(mean);
        }
        return [.. pulled.Select(one => (one.Oscillator, MeanNear(one.Mark)))];
    }

    private static string Counted(Oscillator oscillator) => $"{oscillator.Name}/{oscillator.Spec.Net}";

    private (ImmutableArray<Pulled> All, SolveFailure? Failure) Alone(ImmutableArray<(int Oscillator, double Mark)> pulled, double volts)
    {
        List<Pulled> all = [];
        foreach ((int i, double mark) in pulled)
        {
            string[] heard = [.. outputs[voice.Oscillators[i].Name].Distinct()];
            (SteadyPeriod? own, SolveFailure? failure) = AloneAt(i, volts, heard);
            if (own is null)
                return ([], failure);
            all.Add(new(i, mark, [.. heard.Select((output, k) => (output, new OwnCourse(own, k + 1)))], 1 / own.Hertz));
        }
        return ([.. all], null);
    }

    private (SteadyPeriod? Own, SolveFailure? Failure) AloneAt(int i, double volts, string[] heard)
    {
        PlayedVoice twin = voice.Twin();
        SoloOscillator solo = new(twin, twin.Oscillators[i]);
        return solo.Prepare(volts) is { } failure ? (null, failure) : new PeriodReader(twin, solo, [Counted(twin.Oscillators[i]), .. heard.Select(output => $"{twin.Oscillators[i].Name}/{output}")]).At(volts);
    }
}
