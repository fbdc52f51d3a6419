using System.Collections.Concurrent;
using System.Collections.Immutable;
using System.Numerics;
using Consort.Engine.Pitch;
using Consort.Engine.Quantities;
using Consort.Engine.Sound.Oscillators;
using Consort.Engine.Sound.Shapes;

namespace Consort.Engine.Sound.Laws;

/// <summary>
/// The wave of one output over the keyboard. A note that was read plays what was read there. Between the octaves every key has
/// its own: what takes a fixed time, as an edge behind a comparator, stands elsewhere in the period of each note, and turns
/// each harmonic by an angle that grows with the pitch. So harmonics are joined over the pitch by the polynomial through the
/// nearest four octaves (Lagrange); corners stay where the nearest octave has them, and the table takes what they miss. Any
/// threads may ask at once: a wave hangs on its key alone.
/// </summary>
public sealed class WaveLaw
{
    private const int Joined = 4; // octaves
    private const double Here = 1e-3; // octaves from a note that was read: a cent

    private readonly Oscillator? oscillator;
    private readonly double highest;
    private readonly ImmutableArray<(double Volts, ReadWave Wave)> octaves;
    private readonly ImmutableArray<(double Volts, WaveShape Shape)> read;
    private readonly ConcurrentDictionary<int, WaveShape> byKey = [];

    private WaveLaw(Oscillator? oscillator, double highest, ImmutableArray<(double, ReadWave)> octaves, ImmutableArray<(double, WaveShape)> read) =>
        (this.oscillator, this.highest, this.octaves, this.read) = (oscillator, highest, octaves, read);

    /// <summary>One shape at every note.</summary>
    public static WaveLaw Of(WaveShape shape) => new(null, 0, [], [(0, shape)]);

    /// <summary>From waves that were read.</summary>
    /// <param name="oscillator">Whose output it is.</param>
    /// <param name="octaves">At notes an octave apart, rising.</param>
    /// <param name="others">At other notes.</param>
    /// <param name="highest">Above it nothing is heard, Hz.</param>
    public static WaveLaw Of(Oscillator oscillator, ImmutableArray<(double Volts, ReadWave Wave)> octaves, IEnumerable<(double Volts, ReadWave Wave)> others, double highest) =>
        new(oscillator, highest, octaves, [.. octaves.Concat(others).Select(one => (one.Volts, one.Wave.Shape(Count(oscillator, one.Volts, highest))))]);

    /// <summary>The furthest that it goes from its mean at any note.</summary>
    public double Reach => read.Max(one => one.Shape.Reach);

    /// <summary>The wave at a control voltage.</summary>
    public WaveShape At(double volts)
    {
        (double near, WaveShape shape) = read.MinBy(one => Math.Abs(one.Volts - volts));
        if (oscillator is null || octaves.Length < 2 || volts <= octaves[0].Volts || volts >= octaves[^1].Volts || Math.Abs(near - volts) < Here * oscillator.Spec.VoltsPerOctave)
            return shape;
        double key = 69 + 12 * Math.Log2(oscillator.Spec.IdealHertz(volts, 0) / NoteName.Hertz(69));
        return byKey.GetOrAdd((int)Math.Round(key), OfKey);
    }

    private WaveShape OfKey(int key)
    {
        double volts = LawReader.VoltsOf(oscillator!, key);
        ImmutableArray<(ReadWave Wave, double Weight)> joined = Near(volts);
        Complex[] lines = new Complex[Count(oscillator!, volts, highest)];
        foreach ((ReadWave wave, double weight) in joined)
            for (int k = 0; k < Math.Min(lines.Length, wave.Lines.Length); k++)
                lines[k] += weight * wave.Lines[k];
        return joined.MaxBy(one => one.Weight).Wave.With(lines, joined.Sum(one => one.Weight * one.Wave.Mean));
    }

    private static int Count(Oscillator oscillator, double volts, double highest) =>
        Math.Clamp((int)(highest / oscillator.Spec.IdealHertz(volts, 0)), 1, ShapeReader.MostHarmonics);

    /// <summary>Where a pulse's edges stand at a control voltage; null when it is none at every octave.</summary>
    public (double Rise, double Fall)? EdgesAt(double volts)
    {
        ImmutableArray<(ReadWave Wave, double Weight)> joined = octaves.IsEmpty ? [] : Near(Math.Clamp(volts, octaves[0].Volts, octaves[^1].Volts));
        if (joined.IsEmpty || joined.Any(one => one.Wave.Edges is null))
            return null;
        (double rise, double fall) = joined[0].Wave.Edges!.Value;
        (double rises, double falls) = (rise, fall);
        foreach ((ReadWave wave, double weight) in joined) // the short way round from the first one's
            (rises, falls) = (rises + weight * Turns.Short(wave.Edges!.Value.Rise - rise), falls + weight * Turns.Short(wave.Edges!.Value.Fall - fall));
        return (rises, falls);
    }

    // The octaves around a voltage with what each counts.
    private ImmutableArray<(ReadWave Wave, double Weight)> Near(double volts)
    {
        int above = 1;
        while (above + 1 < octaves.Length && octaves[above].Volts < volts)
            above++;
        int count = Math.Min(Joined, octaves.Length);
        int from = Math.Clamp(above - count / 2, 0, octaves.Length - count);
        return [.. octaves[from..(from + count)].Select(one => (one.Wave, Weight(one.Volts)))];

        double Weight(double own) => octaves[from..(from + count)].Where(other => other.Volts != own).Aggregate(1.0, (weight, other) => weight * (volts - other.Volts) / (own - other.Volts));
    }
}
