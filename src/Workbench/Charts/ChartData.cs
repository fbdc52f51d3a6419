using System.Collections.Immutable;

namespace Consort.Workbench.Charts;

/// <summary>One axis of a chart.</summary>
/// <param name="Title">With its unit: <c>error, cents</c>.</param>
/// <param name="Unit">For the read-out.</param>
/// <param name="Digits">Places after the point in the read-out.</param>
public sealed record ChartScale(string Title, string Unit, int Digits);

/// <summary>One line, or one row of bars.</summary>
/// <param name="Name">What it is.</param>
/// <param name="Style">Chooses colour and dash; lines that belong together share one.</param>
/// <param name="Points">From left to right; a value that is not finite breaks the line.</param>
public sealed record ChartLine(string Name, int Style, ImmutableArray<(double X, double Y)> Points)
{
    /// <summary>The strip that it has to itself; null where all lines share the side's scale. A chart's lines all have one, or none.</summary>
    public ChartLane? Lane { get; init; }
}

/// <summary>One of several strips, the first line's above, each with a graticule and a scale of its own.</summary>
/// <param name="Scale">Its title is what stands beside the line's name: <c>2 V per division</c>.</param>
/// <param name="PerDivision">In the line's unit.</param>
/// <param name="Centre">What its middle stands for.</param>
public sealed record ChartLane(ChartScale Scale, double PerDivision, double Centre);

/// <summary>Divisions of the axis along the bottom while all of it is shown; a part of it has its own.</summary>
/// <param name="From">Where the first begins.</param>
/// <param name="To">Where the last ends.</param>
/// <param name="Step">How wide each is.</param>
/// <param name="Note">What is said behind it.</param>
public sealed record ChartDivisions(double From, double To, double Step, string Note);

/// <summary>A height or a position that is marked with its name.</summary>
public sealed record ChartMark(double At, string Name);

/// <summary>A chart: what the browser draws, the table beside it, and the files that it is kept as.</summary>
/// <param name="Key">Its name among a screen's charts, and in files' names.</param>
/// <param name="Title">What it shows.</param>
/// <param name="X">The axis along the bottom.</param>
/// <param name="Y">The axis at the side.</param>
/// <param name="Lines">What is drawn.</param>
public sealed record ChartData(string Key, string Title, ChartScale X, ChartScale Y, ImmutableArray<ChartLine> Lines)
{
    /// <summary>Levels across, named: limits.</summary>
    public ImmutableArray<ChartMark> Levels { get; init; } = [];

    /// <summary>Positions from bottom to top, named; in lanes without their names.</summary>
    public ImmutableArray<ChartMark> Marks { get; init; } = [];

    /// <summary>For a chart of lanes: its graticule; null for an axis with ticks where they fit.</summary>
    public ChartDivisions? Divisions { get; init; }

    /// <summary>The heights between which all is as asked; null for none.</summary>
    public (double Low, double High)? Band { get; init; }

    /// <summary>True for a histogram: each point stands for the step that begins there.</summary>
    public bool IsBars { get; init; }

    /// <summary>True when the side's scale begins at zero.</summary>
    public bool FromZero { get; init; }

    /// <summary>Height on the screen, pixels.</summary>
    public int Height { get; init; } = 300;

    /// <summary>All positions of all lines, in order.</summary>
    public double[] Positions => [.. Lines.SelectMany(line => line.Points.Select(point => point.X)).Distinct().Order()];
}
