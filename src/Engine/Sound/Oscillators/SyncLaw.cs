using System.Collections.Immutable;

namespace Consort.Engine.Sound.Oscillators;

/// <summary>What another oscillator does to one: once in each of its periods it pulls.</summary>
/// <param name="Mark">Phase of the one that pulls, at which it does.</param>
/// <param name="Maps">What a pull does, at rising pitches of the pulled one; between two of them by its pitch.</param>
public sealed record SyncLaw(double Mark, ImmutableArray<(double Hertz, PhaseMap Map)> Maps)
{
    /// <summary>A reset of any one that stands past a phase, whatever its pitch.</summary>
    public static SyncLaw Reset(double from = 0, double to = 0) => new(0, [(1, PhaseMap.Reset(from, to))]);

    /// <summary>The same with pitches in cycles a sample.</summary>
    public SyncLaw Sampled(int rate) => this with { Maps = [.. Maps.Select(pair => (pair.Hertz / rate, pair.Map))] };

    /// <summary>The phase at which it goes on.</summary>
    public double After(double phase, double hertz)
    {
        int i = 0;
        while (i + 2 < Maps.Length && Maps[i + 1].Hertz < hertz)
            i++;
        if (Maps.Length == 1)
            return Maps[0].Map.After(phase);
        ((double low, PhaseMap one), (double high, PhaseMap other)) = (Maps[i], Maps[i + 1]);
        return one.After(phase, other, Math.Clamp((hertz - low) / (high - low), 0, 1));
    }
}
