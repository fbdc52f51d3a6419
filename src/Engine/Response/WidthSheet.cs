using System.Collections.Immutable;

namespace Consort.Engine.Response;

/// <summary>A pulse at one place of what moves its width.</summary>
/// <param name="At">Position (0 to 1), or V.</param>
/// <param name="High">Share of the period that it is high; 0 or 1 when it has no edge any more; NaN without an oscillation.</param>
public readonly record struct WidthPoint(double At, double High)
{
    /// <summary>True while it has edges.</summary>
    public bool IsAlive => High is > 0 and < 1;
}

/// <summary>Where a pulse loses its edges.</summary>
/// <param name="At">Position (0 to 1), or V: known to 1/5000 of the drive's whole way.</param>
/// <param name="High">True when it stays high beyond.</param>
/// <param name="Last">Share of the period of its shorter state, just before.</param>
public sealed record WidthEnd(double At, bool High, double Last);

/// <summary>The width of a pulse against a control or a control voltage.</summary>
/// <param name="Output">Label of the pulse's jack.</param>
/// <param name="Drive">What moves it.</param>
/// <param name="Points">Over the drive's whole way, evenly.</param>
/// <param name="Low">Where it dies toward the drive's low end; null when it lives there.</param>
/// <param name="High">The same toward the high end.</param>
/// <param name="Half">Where it is half of the period; NaN when it never is.</param>
/// <param name="Slope">Share of the period by a whole unit of the drive (1 V, or the whole turn), from a straight line through the living points.</param>
/// <param name="Bend">Largest distance of a living point from that line, a share of the period.</param>
/// <param name="PitchCents">How far the pitch moves along with it, cents: between its lowest and highest.</param>
public sealed record WidthSheet(
    string Output,
    Drive Drive,
    ImmutableArray<WidthPoint> Points,
    WidthEnd? Low,
    WidthEnd? High,
    double Half,
    double Slope,
    double Bend,
    double PitchCents
)
{
    /// <summary>Where it is a tenth, a half and nine tenths of the period, by the points joined by straight lines; fewer where
    /// it never is.</summary>
    public ImmutableArray<double> Places { get; init; } = [];

    /// <summary>What becomes of it there at other temperatures.</summary>
    public ImmutableArray<WidthDrift> Drifts { get; init; } = [];
}

/// <summary>A pulse at another temperature, what moves it standing still.</summary>
/// <param name="Kelvin">K.</param>
/// <param name="High">Share of the period that it is high, by place.</param>
public sealed record WidthDrift(double Kelvin, ImmutableArray<double> High);
