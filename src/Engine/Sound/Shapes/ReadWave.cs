using System.Collections.Immutable;
using System.Numerics;
using Consort.Engine.Sound.Spectra;

namespace Consort.Engine.Sound.Shapes;

/// <summary>One period of a wave as it was read.</summary>
/// <param name="Corners">Straight lines that stay near it, through these points, phases 0 to 1.</param>
/// <param name="Mean">Direct part.</param>
/// <param name="Lines">The fundamental and what stands above it.</param>
public sealed record ReadWave(ImmutableArray<(double Phase, double Value)> Corners, double Mean, ImmutableArray<Complex> Lines)
{
    /// <summary>Where it goes through half of its height, when it is a pulse.</summary>
    public (double Rise, double Fall)? Edges { get; init; }

    /// <summary>Its shape up to a harmonic.</summary>
    public WaveShape Shape(int harmonics) => With(Lines.AsSpan(0, Math.Min(harmonics, Lines.Length)), Mean);

    /// <summary>A shape of its corners with other harmonics: what the corners have too much or too little is the table's.</summary>
    public WaveShape With(ReadOnlySpan<Complex> lines, double mean)
    {
        HarmonicReading own = HarmonicReading.OfPeriod([.. Corners.Select(point => point.Phase)], [.. Corners.Select(point => point.Value)], lines.Length);
        Complex[] rest = new Complex[lines.Length];
        for (int k = 0; k < rest.Length; k++)
            rest[k] = lines[k] - own.Lines[k];
        return WaveShape.Of([.. Corners.Select(point => (point.Phase, point.Value + mean - own.Mean))], SmoothTable.Of(rest));
    }
}
