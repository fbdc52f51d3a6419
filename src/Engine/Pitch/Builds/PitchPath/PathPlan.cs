using Consort.Engine.Pitch.Builds.Draws;

namespace Consort.Engine.Pitch.Builds.PitchPath;

/// <summary>Where the ends of a conductance stand in a reduced system: equations and unknowns, −1 where there is none.</summary>
internal readonly record struct Ends(int RowA, int RowB, int ColumnA, int ColumnB);

/// <summary>What a parameter's departure adds to an equation, per unit of the parameter.</summary>
internal readonly record struct Shift(int Parameter, int Row, double Slope);

/// <summary>
/// One oscillator's pitch path as builds see it: a small system about the design's own rests. Equations are written for what
/// moves, δ = x − x(design): S·δ + Σ Δg·(x_a − x_b + δ_a − δ_b) + Σ ∂f/∂p·Δp + live(x + δ) − live(x) = 0. All that neither
/// differs between builds nor bends was eliminated beforehand, exactly; what couples by less than a threshold was dropped.
/// </summary>
internal sealed class PathPlan
{
    /// <summary>The oscillator.</summary>
    public required Oscillator Oscillator { get; init; }

    /// <summary>Temperatures, K.</summary>
    public required double[] Kelvins { get; init; }

    /// <summary>Keyboard voltages, V.</summary>
    public required double[] Volts { get; init; }

    /// <summary>What reaches the timing current.</summary>
    public required PathReach Reach { get; init; }

    /// <summary>Drawn parameters that it takes, in its own order.</summary>
    public required DrawnParameter[] Parameters { get; init; }

    /// <summary>For a drawn tempco the place of its part's drawn value, which it is a share of; −1 where there is none.</summary>
    public required int[] ValueBeside { get; init; }

    /// <summary>Equations.</summary>
    public required int Size { get; init; }

    /// <summary>Conductances that differ or are trimmed.</summary>
    public required Conductance[] Conductances { get; init; }

    /// <summary>Their ends.</summary>
    public required Ends[] Ends { get; init; }

    /// <summary>Voltage across each in the design, by temperature, note and conductance, V.</summary>
    public required double[][][] Across { get; init; }

    /// <summary>What other parameters add, by temperature and note.</summary>
    public required Shift[][][] Shifts { get; init; }

    /// <summary>S by temperature, in the order of the elimination's entries.</summary>
    public required double[][] Constants { get; init; }

    /// <summary>The four entries of each conductance: aa, ab, ba, bb; −1 where an end is none.</summary>
    public required int[][] ConductanceEntries { get; init; }

    /// <summary>Leaves the equations and unknowns of live parts.</summary>
    public required PartialElimination Elimination { get; init; }

    /// <summary>What a unit of each equation left does to the pitch, cents.</summary>
    public required double[] RowWeights { get; init; }

    /// <summary>Place of the timing current among the unknowns that are left; −1 when it follows from them by the last
    /// pivot.</summary>
    public required int Reading { get; init; }

    /// <summary>Live parts.</summary>
    public required LivePart[] Live { get; init; }

    /// <summary>The rests of the design, for live parts.</summary>
    public required RestPoints Points { get; init; }

    /// <summary>The design's own timing current by temperature and note, A.</summary>
    public required double[][] Currents { get; init; }
}

/// <summary>A live part: its equations and unknowns by place among what is left, −1 where the path does not hold one.</summary>
/// <param name="Name">Its name in the voice.</param>
/// <param name="Nodes">Unknowns of the whole circuit that it reads.</param>
/// <param name="Columns">Their places among the unknowns left.</param>
/// <param name="RowUnknowns">Rows of the whole circuit that it writes.</param>
/// <param name="Rows">Their places among the equations left.</param>
/// <param name="Parameters">Its drawn parameters: word, and place in the plan's list.</param>
internal sealed record LivePart(string Name, int[] Nodes, int[] Columns, int[] RowUnknowns, int[] Rows, (string Word, int Parameter)[] Parameters);
