using System.Collections.Immutable;
using Consort.Engine.Pitch;
using Consort.Engine.Quantities;
using Consort.Engine.Sound.Drift;
using Consort.Engine.Sound.Noise;
using Consort.Engine.Sound.Oscillators;
using MathNet.Numerics.Interpolation;

namespace Consort.Engine.Sound.Laws;

/// <summary>All that is heard of one oscillator.</summary>
/// <param name="Oscillator">Which one.</param>
/// <param name="Pitch">Its pitch at any voltage.</param>
/// <param name="Waves">By output: its wave at any voltage.</param>
/// <param name="Moves">What each moved player does to it, in the settings' order.</param>
/// <param name="Sync">What the first oscillator does to it by sync; null: nothing.</param>
public sealed record SoundLaw(
    Oscillator Oscillator,
    PitchLaw Pitch,
    ImmutableDictionary<string, WaveLaw> Waves,
    ImmutableArray<MoveLaw> Moves,
    SyncLaw? Sync
)
{
    /// <summary>What noise does to it; null when it is left out.</summary>
    public NoiseLaw? Noise { get; init; }

    /// <summary>What temperature does to its pitch; null when it is left out.</summary>
    public DriftLaw? Drift { get; init; }

    /// <summary>By how much later in the period than at the note at which a move was read an output's edges stand, the player at
    /// rest: what takes a fixed time does so at any width.</summary>
    public (double Rise, double Fall) EdgesMoved(string output, MoveLaw move, double volts)
    {
        WaveLaw wave = Waves[output];
        if (wave.EdgesAt(volts) is not { } here || wave.EdgesAt(move.Note) is not { } there)
            return (0, 0);
        return (Turns.Short(here.Rise - there.Rise), Turns.Short(here.Fall - there.Fall));
    }
}

/// <summary>What a player's voltage does to an oscillator, read at some voltages: frequencies joined by a spline of their
/// logarithms, edges by straight lines.</summary>
/// <param name="Low">Lowest voltage, V.</param>
/// <param name="High">Highest.</param>
/// <param name="Ratios">Frequency against the one with the player where it stands, at even steps.</param>
/// <param name="Edges">By output whose pulse width moves: its edges at those steps.</param>
/// <param name="Note">Control voltage at which all this was read, V.</param>
public sealed record MoveLaw(double Low, double High, ImmutableArray<double> Ratios, ImmutableDictionary<string, ImmutableArray<PulseEdges>> Edges, double Note)
{
    // Over ±5 V of 1 V/octave straight lines between so many points err by 0.01 cent.
    private const int FinePoints = 1025;

    private readonly double[] fine = Fine(Ratios);

    /// <summary>True when the frequency moves by more than rounding.</summary>
    public bool MovesPitch { get; } = Ratios.Any(ratio => Math.Abs(ratio - 1) > 1e-6);

    // Where it stops to oscillate there is no logarithm: straight lines.
    private static double[] Fine(ImmutableArray<double> ratios)
    {
        double[] places = [.. ratios.Select((_, i) => (double)i)];
        bool isAlive = ratios.Length >= 5 && ratios.All(ratio => ratio > 0);
        IInterpolation joined = isAlive
            ? CubicSpline.InterpolateAkimaSorted(places, [.. ratios.Select(ratio => Math.Log2(ratio))])
            : LinearSpline.InterpolateSorted(places, [.. ratios]);
        double step = (ratios.Length - 1.0) / (FinePoints - 1);
        return [.. Enumerable.Range(0, FinePoints).Select(i => joined.Interpolate(i * step)).Select(value => isAlive ? Math.Pow(2, value) : value)];
    }

    /// <summary>The frequency's ratio at a voltage.</summary>
    public double Ratio(double volts)
    {
        (int i, double between) = Place(volts, FinePoints);
        return fine[i] + (fine[i + 1] - fine[i]) * between;
    }

    /// <summary>Frequencies multiplied by their ratios at voltages.</summary>
    public void Apply(ReadOnlySpan<double> volts, Span<double> frequencies)
    {
        ReadOnlySpan<double> ratios = fine;
        int last = ratios.Length - 2;
        double scale = High > Low ? (ratios.Length - 1) / (High - Low) : 0;
        for (int n = 0; n < frequencies.Length; n++)
        {
            double at = (Math.Clamp(volts[n], Low, High) - Low) * scale;
            int i = Math.Min((int)at, last);
            frequencies[n] *= ratios[i] + (ratios[i + 1] - ratios[i]) * (at - i);
        }
    }

    /// <summary>A pulse's edges at a voltage; where it dies between two voltages, it dies in their middle.</summary>
    public PulseEdges EdgesAt(string output, double volts)
    {
        ImmutableArray<PulseEdges> edges = Edges[output];
        (int i, double between) = Place(volts, edges.Length);
        (PulseEdges a, PulseEdges b) = (edges[i], edges[i + 1]);
        if (a.Stuck is not null || b.Stuck is not null)
            return between < 0.5 ? a : b;
        return new(Between(a.Rise, b.Rise, between), Between(a.Fall, b.Fall, between), a.Low, a.High);
    }

    // The short way round the period.
    private static double Between(double a, double b, double share) => Turns.Part(a + Turns.Short(b - a) * share);

    private (int Index, double Between) Place(double volts, int count)
    {
        double at = High > Low ? (Math.Clamp(volts, Low, High) - Low) / (High - Low) * (count - 1) : 0;
        int i = Math.Min((int)at, count - 2);
        return (i, at - i);
    }
}
