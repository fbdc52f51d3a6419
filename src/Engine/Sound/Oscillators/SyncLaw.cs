using System.Collections.Immutable;
using Consort.Engine.Quantities;

namespace Consort.Engine.Sound.Oscillators;

/// <summary>A map at one pitch.</summary>
/// <param name="Hertz">Pitch of the pulled one.</param>
/// <param name="Map">Phases before and after.</param>
/// <param name="Turned">By output: the phase from which on it has turned, where a pull sets the core to its turning point.</param>
public readonly record struct PitchedMap(double Hertz, PhaseMap Map, ImmutableDictionary<string, double> Turned);

/// <summary>What another oscillator does to one: once in each of its periods it pulls.</summary>
/// <param name="Mark">Phase of the one that pulls, at which it does.</param>
/// <param name="Maps">What a pull does, <see cref="Delay"/> after the mark, at rising pitches of the pulled one; between two of them by its pitch.</param>
public sealed record SyncLaw(double Mark, ImmutableArray<PitchedMap> Maps)
{
    private const double Longest = 0.05; // turns

    private string output = "";

    /// <summary>How long after the mark it is pulled, s: what does not grow with the period.</summary>
    public double Delay { get; init; }

    /// <summary>How long after the mark each output goes over to its new course, by its name, s.</summary>
    public ImmutableDictionary<string, double> Lags { get; init; } = ImmutableDictionary<string, double>.Empty;

    /// <summary>How long after the mark this law is asked.</summary>
    public double Lag { get; private init; }

    /// <summary>A reset of any one that stands past a phase, whatever its pitch.</summary>
    public static SyncLaw Reset(double from = 0, double to = 0) => new(0, [new(1, PhaseMap.Reset(from, to), ImmutableDictionary<string, double>.Empty)]);

    /// <summary>The same for one output, with pitches in cycles a sample and its lag in samples.</summary>
    public SyncLaw Sampled(string output, int rate) =>
        this with { output = output, Maps = [.. Maps.Select(one => one with { Hertz = one.Hertz / rate })], Delay = Delay * rate, Lag = Math.Max(0, Lags.GetValueOrDefault(output, Delay)) * rate };

    /// <summary>A pull that sets the core leaves it at its turning point or a little past it: held there, or drawn too far. The
    /// phase is then a little before the turn, since that takes time, but the turn is behind it: so many turns.</summary>
    /// <param name="phase">At which it would stand when it is asked.</param>
    /// <param name="hertz">Its own pitch.</param>
    /// <param name="after">At which it goes on.</param>
    public double Passed(double phase, double hertz, double after)
    {
        PitchedMap near = Maps.MinBy(one => Math.Abs(one.Hertz - hertz));
        if (!near.Map.Sets(AtPull(phase, hertz)) || !near.Turned.TryGetValue(output, out double turned))
            return 0;
        double ahead = Turns.Part(turned - after);
        return ahead < Longest ? ahead : 0;
    }

    private double AtPull(double phase, double hertz) => Turns.Part(phase - hertz * (Lag - Delay));

    /// <summary>The phase at which it goes on, asked a lag after the mark.</summary>
    /// <param name="phase">At which it would stand by then.</param>
    /// <param name="hertz">Its own pitch.</param>
    public double After(double phase, double hertz) => Turns.Part(Mapped(AtPull(phase, hertz), hertz) + hertz * (Lag - Delay));

    private double Mapped(double phase, double hertz)
    {
        int i = 0;
        while (i + 2 < Maps.Length && Maps[i + 1].Hertz < hertz)
            i++;
        if (Maps.Length == 1)
            return Maps[0].Map.After(phase);
        (PitchedMap low, PitchedMap high) = (Maps[i], Maps[i + 1]);
        return low.Map.After(phase, high.Map, Math.Clamp((hertz - low.Hertz) / (high.Hertz - low.Hertz), 0, 1));
    }
}
