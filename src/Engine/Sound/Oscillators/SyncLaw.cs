using System.Collections.Immutable;

namespace Consort.Engine.Sound.Oscillators;

/// <summary>What another oscillator does to one: once in each of its periods it pulls.</summary>
/// <param name="Mark">Phase of the one that pulls, at which it does.</param>
/// <param name="Maps">What a pull does, <see cref="Delay"/> after the mark, at rising pitches of the pulled one; between two of them by its pitch.</param>
public sealed record SyncLaw(double Mark, ImmutableArray<(double Hertz, PhaseMap Map)> Maps)
{
    /// <summary>How long after the mark it is pulled, s: what does not grow with the period.</summary>
    public double Delay { get; init; }

    /// <summary>How long after the mark each output goes over to its new course, by its name, s.</summary>
    public ImmutableDictionary<string, double> Lags { get; init; } = ImmutableDictionary<string, double>.Empty;

    /// <summary>How long after the mark this law is asked.</summary>
    public double Lag { get; private init; }

    /// <summary>A reset of any one that stands past a phase, whatever its pitch.</summary>
    public static SyncLaw Reset(double from = 0, double to = 0) => new(0, [(1, PhaseMap.Reset(from, to))]);

    /// <summary>The same for one output, with pitches in cycles a sample and its lag in samples.</summary>
    public SyncLaw Sampled(string output, int rate) =>
        this with { Maps = [.. Maps.Select(pair => (pair.Hertz / rate, pair.Map))], Delay = Delay * rate, Lag = Math.Max(0, Lags.GetValueOrDefault(output, Delay)) * rate };

    /// <summary>The phase at which it goes on, asked a lag after the mark.</summary>
    /// <param name="phase">At which it would stand by then.</param>
    /// <param name="hertz">Its own pitch.</param>
    public double After(double phase, double hertz)
    {
        double since = hertz * (Lag - Delay);
        double after = Mapped(phase - since - Math.Floor(phase - since), hertz) + since;
        return after - Math.Floor(after);
    }

    private double Mapped(double phase, double hertz)
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
