using System.Collections.Immutable;
using Consort.Engine.Circuit;
using Consort.Engine.Pitch;
using Consort.Engine.Scope;

namespace Consort.Engine.Sound.Sync;

/// <summary>One that the lead pulls.</summary>
/// <param name="Oscillator">Its number in the voice.</param>
/// <param name="Mark">Phase of the lead at which it is pulled.</param>
/// <param name="Outputs">Those that are heard, with their courses when it is left alone.</param>
/// <param name="Period">Left alone, s.</param>
internal sealed record Pulled(int Oscillator, double Mark, ImmutableArray<(string Output, OwnCourse Course)> Outputs, double Period);

/// <summary>What was sampled of one that is pulled.</summary>
/// <param name="Map">Phases before and after.</param>
/// <param name="Lags">By output: how long after pulls it went over to its new course, s.</param>
internal sealed record PullSamples(MapSketch Map, ImmutableArray<List<double>> Lags);

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

    private readonly PlayedVoice twin;
    private readonly double volts;
    private readonly ImmutableArray<Pulled> all;
    private readonly PullSamples[] samples;
    private readonly double slowest;
    private readonly ImmutableArray<ImmutableArray<Channel>> channels; // of the outputs
    private readonly List<(double Time, double[][] Volts)> seen = []; // around the last pull

    /// <summary>For a control voltage.</summary>
    /// <param name="twin">No one else's.</param>
    public MapSampler(PlayedVoice twin, double volts, ImmutableArray<Pulled> all)
    {
        (this.twin, this.volts, this.all) = (twin, volts, all);
        samples = [.. all.Select(one => new PullSamples(new(), [.. one.Outputs.Select(_ => new List<double>())]))];
        slowest = all.Max(one => one.Period);
        channels = [.. all.Select(one => Channel.Find(twin.Voice, twin.Circuit, one.Outputs.Select(pair => $"{twin.Oscillators[one.Oscillator].Name}/{pair.Output}")).Channels)];
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
        return ([.. samples], null);
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
        double[] pulls = [.. all.Select(one => led.Next(one.Mark))];
        return led.RunUntil(() => false, pulls.Max() + Around * slowest) ?? led.RunUntil(() => all.Select((one, i) => IsCounted(led, one, pulls[i])).All(counted => counted), Patience(led));
    }

    private bool IsCounted(LedVoice led, Pulled one, double pull) => led.Times(one.Oscillator)[^1] > pull + Around * slowest;

    private (int Follower, double Phase)? Next()
    {
        for (int i = 0; i < all.Length; i++)
            if (samples[i].Map.Wanted() is { } phase)
                return (i, phase);
        return null;
    }

    private SolveFailure? Take(LedVoice led, int follower, double phase)
    {
        double[] counted = [.. all.Select(one => led.Times(one.Oscillator)[^1])];
        Aim(led, follower, phase, counted[follower]);
        double[] pulls = [.. all.Select(one => led.Next(one.Mark))];
        seen.Clear();
        if (led.RunUntil(() => false, pulls.Min() - Before * slowest) is { } failed)
            return failed;
        led.Seen = (time, x) => seen.Add((time, [.. channels.Select(outputs => outputs.Select(output => output.Volts(x)).ToArray())]));
        if (led.RunUntil(() => false, pulls.Max() + Around * slowest) is { } failure)
            return failure;
        led.Seen = null;
        led.SetPeriod(Waiting * slowest);
        if (led.RunUntil(() => all.Select((one, i) => IsCounted(led, one, pulls[i])).All(counted => counted), Patience(led)) is { } lost)
            return lost;
        for (int i = 0; i < all.Length; i++)
            Add(i, pulls[i], counted[i], led.Times(all[i].Oscillator)[^1]);
        return null;
    }

    private void Add(int i, double pull, double before, double after)
    {
        samples[i].Map.Add(Share((pull - before) / all[i].Period), Share((pull - after) / all[i].Period));
        for (int k = 0; k < all[i].Outputs.Length; k++)
            if (GoesOver(all[i].Outputs[k].Course, step => seen[step].Volts[i][k], pull, before, after) is { } moment)
                samples[i].Lags[k].Add(moment - pull);
    }

    // When an output is first nearer to the course from the crossing after the pull than to that from the one before.
    private double? GoesOver(OwnCourse course, Func<int, double> at, double pull, double before, double after)
    {
        if (Math.Abs(course.At(pull - before) - course.At(pull - after)) < Apart * course.Height)
            return null;
        double Nearer(int step) => Math.Abs(at(step) - course.At(seen[step].Time - before)) - Math.Abs(at(step) - course.At(seen[step].Time - after));
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
        double wait = Share(phase - stands) * one.Period;
        while (wait < Soonest * slowest)
            wait += one.Period;
        led.SetPeriod(wait / Share(one.Mark - led.PhaseNow));
    }

    private static double Share(double turns) => turns - Math.Floor(turns);
}
