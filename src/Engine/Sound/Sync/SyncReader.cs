using System.Collections.Immutable;
using Consort.Engine.Circuit;
using Consort.Engine.Pitch;
using Consort.Engine.Quantities;
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

    private const double OnePitch = 0.5; // octaves within which a map holds
    private const double ThreePitches = 3;

    /// <summary>A law for each oscillator after the first; null for one that goes its own way.</summary>
    public (ImmutableArray<SyncLaw?> Laws, SolveFailure? Failure) Read()
    {
        (ImmutableArray<(int Oscillator, double Mark)> pulled, SolveFailure? failure) = Find();
        if (failure is not null)
            return ([], failure);
        List<(Pulled One, PullSamples Samples)>[] read = [.. pulled.Select(_ => new List<(Pulled, PullSamples)>())];
        foreach (double volts in pulled.IsEmpty ? [] : Pitches())
        {
            (ImmutableArray<Pulled> all, SolveFailure? unread) = Alone(pulled, volts);
            if (unread is not null)
                return ([], unread);
            (ImmutableArray<PullSamples> samples, SolveFailure? lost) = new MapSampler(voice.Twin(), volts, all).Read();
            if (lost is not null)
                return ([], lost);
            for (int i = 0; i < all.Length; i++)
                read[i].Add((all[i], samples[i]));
        }
        SyncLaw?[] laws = new SyncLaw?[voice.Oscillators.Length - 1];
        for (int i = 0; i < pulled.Length; i++)
            laws[pulled[i].Oscillator - 1] = Law(voice.Oscillators[pulled[i].Oscillator].Name, read[i]);
        return ([.. laws], null);
    }

    private SyncLaw Law(string oscillator, List<(Pulled One, PullSamples Samples)> read)
    {
        string[] heard = Heard(oscillator);
        double delay = read.Average(pair => pair.Samples.Delay);
        double Lag(int output) => delay + Median.Of(read.SelectMany(pair => pair.Samples.Lags[output + 1]));
        ImmutableDictionary<string, double> Turned(PullSamples samples) =>
            heard.Where((_, k) => k + 1 < samples.Turned.Length).Select((output, k) => KeyValuePair.Create(output, samples.Turned[k + 1])).ToImmutableDictionary();
        return new(read.Average(pair => pair.Samples.Mark), [.. read.Select(pair => new PitchedMap(1 / pair.One.Period, pair.Samples.Map, Turned(pair.Samples)))])
        {
            Delay = delay,
            Lags = heard.Select((output, k) => KeyValuePair.Create(output, Lag(k))).ToImmutableDictionary(),
        };
    }

    private string[] Heard(string oscillator) => [.. outputs[oscillator].Distinct()];

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
            (SteadyPeriod? own, SolveFailure? unread) = AloneAt(i, Middle, [Counted(voice.Oscillators[i])]);
            if (own is null)
                return ([], unread);
            double mark = double.IsFinite(own.Hertz) ? new PullFinder(new(own, 0)).Phase(led.Times(0), led.Times(i), traces[i]) : double.NaN;
            if (double.IsFinite(mark))
                pulled.Add((i, mark));
        }
        return ([.. pulled], null);
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

    private static string Counted(Oscillator oscillator) => $"{oscillator.Name}/{oscillator.Spec.Net}";

    private (ImmutableArray<Pulled> All, SolveFailure? Failure) Alone(ImmutableArray<(int Oscillator, double Mark)> pulled, double volts)
    {
        List<Pulled> all = [];
        foreach ((int i, double mark) in pulled)
        {
            string name = voice.Oscillators[i].Name;
            string[] channels = [Counted(voice.Oscillators[i]), .. Heard(name).Select(output => $"{name}/{output}")];
            (SteadyPeriod? own, SolveFailure? failure) = AloneAt(i, volts, channels);
            if (own is null)
                return ([], failure);
            all.Add(new(i, mark, 1 / own.Hertz, [.. channels.Select((channel, k) => (channel, new OwnCourse(own, k)))]));
        }
        return ([.. all], null);
    }

    private (SteadyPeriod? Own, SolveFailure? Failure) AloneAt(int i, double volts, string[] channels)
    {
        PlayedVoice twin = voice.Twin();
        SoloOscillator solo = new(twin, twin.Oscillators[i]);
        return solo.Prepare(volts) is { } failure ? (null, failure) : new PeriodReader(twin, solo, channels).At(volts);
    }
}
