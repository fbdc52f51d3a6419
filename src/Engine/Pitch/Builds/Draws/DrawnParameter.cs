using System.Collections.Immutable;
using Consort.Engine.Circuit;
using Consort.Engine.Design;

namespace Consort.Engine.Pitch.Builds.Draws;

/// <summary>How a departure moves a parameter.</summary>
public enum MoveKind
{
    /// <summary>value·(1 + d).</summary>
    Share,

    /// <summary>value + d.</summary>
    Added,

    /// <summary>value·exp(−d/VT) at 25 °C: a saturation current, by the base voltage that it stands for.</summary>
    BaseVoltage,

    /// <summary>value/(1 + d): what keeps its product with another.</summary>
    InverseShare,
}

/// <summary>What moves a parameter: a departure of one variate times the half-width of its limits.</summary>
/// <param name="Variate">Number of the variate.</param>
/// <param name="HalfWidth">In the parameter's unit, or relative; 1 for measured departures.</param>
public readonly record struct DrawTerm(int Variate, double HalfWidth);

/// <summary>One parameter that differs from build to build.</summary>
/// <param name="Part">Its part.</param>
/// <param name="Place">Where it lives in the circuit.</param>
/// <param name="Word">Its word.</param>
/// <param name="Nominal">Its value in the design, SI units.</param>
/// <param name="Move">How departures move it.</param>
/// <param name="Terms">The departures, which add up.</param>
public sealed record DrawnParameter(
    Part Part,
    PartPlace Place,
    string Word,
    double Nominal,
    MoveKind Move,
    ImmutableArray<DrawTerm> Terms
)
{
    /// <summary>Reciprocal of the thermal voltage at 25 °C, 1/V.</summary>
    internal static readonly double PerVt = 1 / Constants.ThermalVoltage(Constants.ReferenceTemperature);

    /// <summary>Departure at which it stands before anything is drawn: not 0 where a design was changed since its laws were read.</summary>
    public double Offset { get; init; }

    /// <summary>Its part as the design has it now: another than the one whose laws were read, where the design was changed since.</summary>
    public Part Stated { get; init; } = Part;

    /// <summary>Half of its whole spread, in its own unit.</summary>
    public double HalfWidth
    {
        get
        {
            double width = Terms.Sum(term => term.HalfWidth);
            return Move switch
            {
                MoveKind.Share or MoveKind.InverseShare => Math.Abs(width * Nominal),
                MoveKind.Added => width,
                _ => width * PerVt * Nominal,
            };
        }
    }

    /// <summary>The same parameter drawn about another value: offset and terms are such that every draw gives the value that it
    /// gives of <paramref name="edited"/>.</summary>
    /// <param name="edited">The parameter as it has become; it moves in the same way.</param>
    public DrawnParameter About(DrawnParameter edited)
    {
        double share = edited.Nominal / Nominal;
        (double offset, double scale) = Move switch
        {
            MoveKind.Share => (share - 1, share),
            MoveKind.Added => (edited.Nominal - Nominal, 1),
            MoveKind.InverseShare => (1 / share - 1, 1 / share),
            _ => (-Math.Log(share) / PerVt, 1.0),
        };
        return this with { Stated = edited.Stated, Offset = offset, Terms = [.. edited.Terms.Select(term => term with { HalfWidth = scale * term.HalfWidth })] };
    }

    /// <summary>Its value in a build.</summary>
    /// <param name="departure">Sum of its offset and terms.</param>
    public double Value(double departure) =>
        Move switch
        {
            MoveKind.Share => Nominal * (1 + departure),
            MoveKind.Added => Nominal + departure,
            MoveKind.InverseShare => Nominal / (1 + departure),
            _ => Nominal * Math.Exp(-departure * PerVt),
        };
}

/// <summary>One thing that varies by itself: a number of its own in every build.</summary>
/// <param name="Name">As <c>lead/R3 tolerance</c>.</param>
/// <param name="Shape">How it lies between its limits.</param>
/// <param name="Reel">The variate that its reel shares; −1 without a reel.</param>
/// <param name="Alike">Correlation of pieces off that reel.</param>
public sealed record Variate(string Name, SpreadShape Shape, int Reel = -1, double Alike = 0);
