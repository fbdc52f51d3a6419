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
public sealed record ChartLine(string Name, int Style, ImmutableArray<(double X, double Y)> Points);

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

    /// <summary>Positions from bottom to top, named.</summary>
    public ImmutableArray<ChartMark> Marks { get; init; } = [];

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
