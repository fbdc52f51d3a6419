using System.Collections.Immutable;
using Consort.Engine.Circuit;
using Consort.Engine.Pitch;
using Consort.Engine.Sound.Oscillators;

namespace Consort.Engine.Sound.Sync;

/// <summary>One that the lead pulls.</summary>
/// <param name="Oscillator">Its number in the voice.</param>
/// <param name="Period">Left alone, s.</param>
/// <param name="Mark">Phase of the lead at which it is pulled.</param>
internal sealed record Pulled(int Oscillator, double Period, double Mark);

/// <summary>Samples what a pull does, for all that are pulled in one run of the whole voice: each time the lead is made to come
/// when one of them stands where a sample is wanted.</summary>
internal sealed class MapSampler(PlayedVoice twin, double volts, ImmutableArray<Pulled> all)
{
    // Of the slowest follower's period: the lead's between samples, so that each follower is counted after a pull and the lead
    // has still most of its way to go; how soon it may pull then; for how long it is left alone around a pull.
    private const double Waiting = 2;
    private const double Soonest = 0.5;
    private const double Around = 0.1;

    private readonly MapSketch[] sketches = [.. all.Select(_ => new MapSketch())];
    private readonly double slowest = all.Max(one => one.Period);

    /// <summary>Runs until every map is known.</summary>
    public (ImmutableArray<MapSketch> Maps, SolveFailure? Failure) Read()
    {
        (LedVoice? led, SolveFailure? failure) = LedVoice.Start(twin, volts, Waiting * slowest);
        if (led is null || (failure = Begin(led)) is not null)
            return ([], failure);
        while (Next() is { } next)
            if (Take(led, next.Follower, next.Phase) is { } broken)
                return ([], broken);
        return ([.. sketches], null);
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
            if (sketches[i].Wanted() is { } phase)
                return (i, phase);
        return null;
    }

    private SolveFailure? Take(LedVoice led, int follower, double phase)
    {
        double[] counted = [.. all.Select(one => led.Times(one.Oscillator)[^1])];
        Aim(led, follower, phase, counted[follower]);
        double[] pulls = [.. all.Select(one => led.Next(one.Mark))];
        if (led.RunUntil(() => false, pulls.Max() + Around * slowest) is { } failure)
            return failure;
        led.SetPeriod(Waiting * slowest);
        if (led.RunUntil(() => all.Select((one, i) => IsCounted(led, one, pulls[i])).All(all => all), Patience(led)) is { } lost)
            return lost;
        for (int i = 0; i < all.Length; i++)
            sketches[i].Add(Share((pulls[i] - counted[i]) / all[i].Period), Share((pulls[i] - led.Times(all[i].Oscillator)[^1]) / all[i].Period));
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
