using System.Collections.Immutable;
using Consort.Engine.Bench;
using Consort.Engine.Bench.Readings;
using Consort.Engine.Circuit;
using Consort.Engine.Design;
using Consort.Engine.Pitch;

namespace Consort.Engine.Fit;

/// <summary>A unit, fitted, with what to turn and how it stands against its design.</summary>
/// <param name="Unit">The fit.</param>
/// <param name="Plan">What to turn.</param>
/// <param name="Verdict">How it stands.</param>
/// <param name="Notes">What to know of it.</param>
public sealed record UnitTrimming(FittedUnit Unit, TrimPlan Plan, UnitVerdict Verdict, ImmutableArray<string> Notes)
{
    /// <summary>The whole way from readings to advice.</summary>
    /// <param name="voice">The voice.</param>
    /// <param name="stock">Its shelf.</param>
    /// <param name="place">The unit.</param>
    /// <param name="set">What was read of it.</param>
    /// <param name="threads">How many may work.</param>
    /// <param name="progress">Told the stage and the share that is done.</param>
    public static (UnitTrimming? Trimming, Unproved? Failure) Of(Voice voice, Stock stock, UnitPlace place, ReadingSet set, int threads, IProgress<(string Stage, double Done)>? progress = null)
    {
        progress?.Report(("reading the design", 0.05));
        (UnitModel? model, Unproved? failure) = ModelOf(voice, stock, place, set, threads);
        if (model is null)
            return (null, failure);
        progress?.Report(("fitting", 0.9));
        return (Of(model, voice, place, set), null);
    }

    /// <summary>What the design says of the unit's module, at the temperatures that its readings call for: it holds for later
    /// readings at the same bench.</summary>
    /// <param name="voice">The voice.</param>
    /// <param name="stock">Its shelf.</param>
    /// <param name="place">The unit.</param>
    /// <param name="set">What was read of it.</param>
    /// <param name="threads">How many may work.</param>
    public static (UnitModel? Model, Unproved? Failure) ModelOf(Voice voice, Stock stock, UnitPlace place, ReadingSet set, int threads)
    {
        if (place.Member.Module.Trims.All(step => step.Purpose == TrimPurpose.Other))
            return (null, new($"module {place.Unit.Module} has no trim that sets pitch", "name its trimmers under 'trims' in the module's file"));
        double[] kelvins = [.. new[] { Bench(set), voice.Limits.ColdKelvin, voice.Limits.WarmKelvin }.Distinct()];
        (UnitModel? model, SolveFailure? failure) = UnitModel.Find(voice, stock, place, kelvins, threads);
        return model is null ? (null, Prover.Because(failure!)) : (model, null);
    }

    /// <summary>The same with what the design says of the unit at hand: at once.</summary>
    /// <param name="model">Of <see cref="ModelOf"/>.</param>
    /// <param name="voice">The voice.</param>
    /// <param name="place">The unit.</param>
    /// <param name="set">What was read of it.</param>
    public static UnitTrimming Of(UnitModel model, Voice voice, UnitPlace place, ReadingSet set)
    {
        FittedUnit unit = new UnitFitter(model).Fit(UnitPoints.Of(model, set));
        TrimPlan plan = new TrimPlanner(unit).Plan();
        return new(unit, plan, new UnitJudge(model).Judge(unit, plan), [.. Words(model, place, voice, set)]);
    }

    /// <summary>The temperature of most readings, K; readings that say none were taken at the design's bench.</summary>
    public static double Bench(ReadingSet set) =>
        set.Readings.Select(reading => reading.Kelvin ?? Prover.BenchKelvin).GroupBy(kelvin => kelvin).OrderByDescending(group => group.Count()).ThenBy(group => group.Key).First().Key;

    private static IEnumerable<string> Words(UnitModel model, UnitPlace place, Voice voice, ReadingSet set)
    {
        if (model.Builds.Voice.Voice.Players[0] is { } keyboard)
            yield return $"Control voltages are those that the keyboard stands at before its own {keyboard.Resistance:0.#} Ω: unplugged, or measured at a source of that resistance.";
        if (voice.IsFollower(place.Member.Name))
            yield return "The lead on whose link it hangs is taken to be trimmed; what is wrong with that is read as the follower's own.";
        if (set.Readings.All(reading => reading.Kelvin is null))
            yield return "Nobody said the temperature: 25 °C is taken.";
        foreach (double kelvin in set.Readings.Select(reading => reading.Kelvin).OfType<double>().Distinct())
            if (Math.Abs(model.Kelvins[model.TemperatureAt(kelvin)] - kelvin) > 2)
                yield return $"Readings at {kelvin - 273.15:0.#} °C are taken as at {model.Kelvins[model.TemperatureAt(kelvin)] - 273.15:0.#} °C.";
    }
}
