using System.Collections.Immutable;
using Consort.Engine.Circuit;
using Consort.Engine.Pitch;
using Consort.Engine.Quantities;
using Consort.Engine.Scope;
using Consort.Engine.Sound.Oscillators;

namespace Consort.Engine.Sound.Sync;

/// <summary>One that the lead pulls.</summary>
/// <param name="Oscillator">Its number in the voice.</param>
/// <param name="Mark">Phase of the lead at about which it is pulled.</param>
/// <param name="Period">Left alone, s.</param>
/// <param name="Channels">What is counted, and the outputs that are heard, with their courses when it is left alone.</param>
internal sealed record Pulled(int Oscillator, double Mark, double Period, ImmutableArray<(string Name, OwnCourse Course)> Channels);

/// <summary>What was sampled of one that is pulled.</summary>
/// <param name="Map">Phases before and after.</param>
/// <param name="Mark">Phase of the lead at which it is pulled, by what its core did.</param>
/// <param name="Delay">And how much later, s: what does not grow with the lead's period.</param>
/// <param name="Lags">By channel: how much later still it went over to its new course, s.</param>
/// <param name="Turned">By channel: the phase from which on it has turned, where pulls set the core to its turning point.</param>
internal sealed record PullSamples(PhaseMap Map, double Mark, double Delay, ImmutableArray<ImmutableArray<double>> Lags, ImmutableArray<double> Turned);

/// <summary>Samples what a pull does, for all that are pulled in one run of the whole voice: each time the lead is made to come
/// when one of them stands where a sample is wanted.</summary>
internal sealed class MapSampler
{
    // Of the slowest follower's period: the lead's between samples, so that each follower is counted after a pull and the lead
    // has still most of its way to go; how soon it may pull then; for how long it is left alone around a pull.
    private const double Waiting = 2;
    private const double Soonest = 0.5;
    private const double Around = 0.1;
    private const double Before = 0.01; // outputs are looked at from so long before it

    // An output whose old and new courses are nearer than this at the pull does not tell when it went over.
    private const double Apart = 0.3; // of its height
    private const double Ahead = 0.02; // turns
    private const int FewestMoments = 6;
    private const int Tried = 64; // phases
    private const double Straight = 0.05; // turns: so long after a turn it is on its way
    private const double Slowest = 5e-6; // s: a comparator or an amplifier behind the core

    private readonly PlayedVoice twin;
    private readonly double volts;
    private readonly ImmutableArray<Pulled> all;
    private readonly MapSketch[] sketches; // by where the lead is thought to pull
    private readonly List<Pull>[] pulls;
    private readonly double slowest;
    private readonly ImmutableArray<ImmutableArray<Channel>> channels;
    private readonly List<(double Time, double[][] Volts)> seen = []; // around the last pull

    // One pull: the lead's phase was 0 at From, and went on with Period; crossings of the pulled one around it; when its core
    // and its outputs went over.
    private readonly record struct Pull(double From, double Period, double Before, double After, double?[] Moments);

    /// <summary>For a control voltage.</summary>
    /// <param name="twin">No one else's.</param>
    public MapSampler(PlayedVoice twin, double volts, ImmutableArray<Pulled> all)
    {
        (this.twin, this.volts, this.all) = (twin, volts, all);
        sketches = [.. all.Select(_ => new MapSketch())];
        pulls = [.. all.Select(_ => new List<Pull>())];
        slowest = all.Max(one => one.Period);
        channels = [.. all.Select(one => Channel.Find(twin.Voice, twin.Circuit, one.Channels.Select(pair => pair.Name)).Channels)];
    }

    /// <summary>Runs until every map is known.</summary>
    public (ImmutableArray<PullSamples> Samples, SolveFailure? Failure) Read()
    {
        (LedVoice? led, SolveFailure? failure) = LedVoice.Start(twin, volts, Waiting * slowest);
        if (led is null || (failure = Begin(led)) is not null)
            return ([], failure);
        while (Next() is { } next)
            if (Take(led, next.Follower, next.Phase) is { } broken)
                return ([], broken);
        return ([.. all.Select((_, i) => Judge(i))], null);
    }

    private double Patience(LedVoice led) => led.Time + PlayedVoice.MostPeriods * slowest;

    private SolveFailure? Begin(LedVoice led)
    {
        if (led.RunUntil(() => led.Times(0).Count >= 3, Patience(led)) is { } failure)
            return failure;
        if (led.Times(0).Count < 3 || all.Any(one => led.Times(one.Oscillator).Count == 0))
            return new("one of the oscillators does not oscillate", twin.Oscillators[0].Spec.Net, led.Time, 0);
        led.TakePeriod();
        return PassAndCount(led);
    }

    // The next pull, and then a crossing of each follower well after it.
    private SolveFailure? PassAndCount(LedVoice led)
    {
        double[] expected = [.. all.Select(one => led.Next(one.Mark))];
        return led.RunTo(expected.Max() + Around * slowest) ?? Count(led, expected);
    }

    // To a crossing of each follower well after its pull.
    private SolveFailure? Count(LedVoice led, double[] expected) =>
        led.RunUntil(() => all.Zip(expected).All(pair => led.Times(pair.First.Oscillator)[^1] > pair.Second + Around * slowest), Patience(led));

    private (int Follower, double Phase)? Next()
    {
        for (int i = 0; i < all.Length; i++)
            if (sketches[i].Wanted() is { } phase)
                return (i, phase);
        return null;
    }

    private SolveFailure? Take(LedVoice led, int follower, double phase)
    {
        double[] counted = [.. all.Select(one => led.Times(one.Oscillator)[^1])];
        Aim(led, follower, phase, counted[follower]);
        double[] expected = [.. all.Select(one => led.Next(one.Mark))];
        seen.Clear();
        if (led.RunTo(expected.Min() - Before * slowest) is { } failed)
            return failed;
        led.Seen = (time, x) => seen.Add((time, [.. channels.Select(mine => mine.Select(channel => channel.Volts(x)).ToArray())]));
        if (led.RunTo(expected.Max() + Around * slowest) is { } failure)
            return failure;
        led.Seen = null;
        (double from, double period) = (led.Time - led.PhaseNow * led.Period, led.Period);
        led.SetPeriod(Waiting * slowest);
        if (Count(led, expected) is { } lost)
            return lost;
        for (int i = 0; i < all.Length; i++)
            Add(i, expected[i], from + period * Math.Round((expected[i] - from) / period - all[i].Mark), period, counted[i], led.Times(all[i].Oscillator)[^1]);
        return null;
    }

    private void Add(int i, double expected, double from, double period, double before, double after)
    {
        sketches[i].Add(Turns.Part((expected - before) / all[i].Period), Turns.Part((expected - after) / all[i].Period));
        pulls[i].Add(new(from, period, before, after, [.. all[i].Channels.Select((channel, k) => GoesOver(channel.Course, step => seen[step].Volts[i][k], expected, before, after))]));
    }

    // With the moments at which the core went over known, phases are told from there.
    private PullSamples Judge(int i)
    {
        (double mark, double delay) = Moment(i);
        MapSketch map = new();
        foreach (Pull pull in pulls[i])
        {
            double at = pull.From + mark * pull.Period + delay;
            map.Add(Turns.Part((at - pull.Before) / all[i].Period), Turns.Part((at - pull.After) / all[i].Period));
        }
        PhaseMap told = map.Map;
        return new(told, mark, delay, [.. all[i].Channels.Select((_, k) => Lags(i, k, mark, delay))], Turned(i, told));
    }

    // The core has turned where its straight way on begins, an output some microseconds later.
    private ImmutableArray<double> Turned(int i, PhaseMap map)
    {
        double[] set = [.. Enumerable.Range(0, Tried).Select(k => (k + 0.5) / Tried).Where(map.Sets).Select(map.After)];
        if (set.Length < Tried / 4)
            return [];
        double after = Turns.Middle(set);
        double turned = all[i].Channels[0].Course.LineFrom(after - Ahead, after + Straight);
        return [.. all[i].Channels.Select((channel, k) => k == 0 ? turned : channel.Course.LineFrom(after - Ahead, turned + Ahead + Slowest / all[i].Period))];
    }

    private ImmutableArray<double> Lags(int i, int channel, double mark, double delay) =>
        [.. pulls[i].Where(pull => pull.Moments[channel] is not null).Select(pull => pull.Moments[channel]!.Value - pull.From - mark * pull.Period - delay)];

    // A straight line by the lead's period through the moments of the core, by least squares without the one in ten that lie
    // furthest off; the phase at which it is thought to pull when too few are told.
    private (double Mark, double Delay) Moment(int i)
    {
        (double Period, double After)[] told = [.. pulls[i].Where(pull => pull.Moments[0] is not null).Select(pull => (pull.Period, pull.Moments[0]!.Value - pull.From))];
        if (told.Length < FewestMoments)
            return (all[i].Mark, 0);
        (double mark, double delay) = Line(told);
        (double Period, double After)[] near = [.. told.OrderBy(one => Math.Abs(one.After - mark * one.Period - delay)).Take(told.Length - told.Length / 10)];
        return Line(near);
    }

    private static (double Slope, double Start) Line((double X, double Y)[] points)
    {
        (double x, double y) = (points.Average(point => point.X), points.Average(point => point.Y));
        double slope = points.Sum(point => (point.X - x) * (point.Y - y)) / points.Sum(point => (point.X - x) * (point.X - x));
        return (slope, y - slope * x);
    }

    // When an output is first nearer to the course from the crossing after the pull than to that from the one before.
    private double? GoesOver(OwnCourse course, Func<int, double> at, double pull, double before, double after)
    {
        if (Math.Abs(course.At(pull - before) - course.At(pull - after)) < Apart * course.Height)
            return null;
        // One that is held at its turn or drawn past it is nearer to what follows.
        double Off(int step, double crossing, double ahead = 0) => Math.Abs(at(step) - course.At(seen[step].Time - crossing + ahead * course.Period));
        double Nearer(int step) => Off(step, before) - Math.Min(Off(step, after), Off(step, after, Ahead));
        for (int step = 1; step < seen.Count; step++)
            if (Nearer(step) > 0)
            {
                (double left, double right) = (Nearer(step - 1), Nearer(step));
                double share = left < 0 ? left / (left - right) : 1;
                return seen[step - 1].Time + share * (seen[step].Time - seen[step - 1].Time);
            }
        return null;
    }

    private void Aim(LedVoice led, int follower, double phase, double counted)
    {
        Pulled one = all[follower];
        double stands = (led.Time - counted) / one.Period;
        double wait = Turns.Part(phase - stands) * one.Period;
        while (wait < Soonest * slowest)
            wait += one.Period;
        led.SetPeriod(wait / Turns.Part(one.Mark - led.PhaseNow));
    }
}
