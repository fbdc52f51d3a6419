namespace Consort.Engine.Circuit.Linear;

/// <summary>
/// A sparse LU elimination written down as flat arrays of indices. Work places are laid out pivot by pivot: the pivot,
/// then its row (U), then its column (L). Immutable: one program serves any number of <see cref="LuFactors{T}"/>.
/// </summary>
/// <param name="Size">Number of unknowns.</param>
/// <param name="Places">Number of work places, with place 0 that is thrown away.</param>
/// <param name="Load">Slot of the matrix to work place.</param>
/// <param name="PivotRows">Row of each pivot.</param>
/// <param name="PivotColumns">Column of each pivot.</param>
/// <param name="PivotPlaces">Work place of each pivot.</param>
/// <param name="UpperCounts">Entries of U in each pivot's row.</param>
/// <param name="LowerCounts">Entries of L in each pivot's column.</param>
/// <param name="UpperSteps">At which step each of their columns is the pivot's, one after the other.</param>
/// <param name="LowerSteps">At which step each of their rows is the pivot's.</param>
/// <param name="Targets">Place of (lower, upper) for every product of the elimination, in order.</param>
internal sealed record LuProgram(
    int Size,
    int Places,
    int[] Load,
    int[] PivotRows,
    int[] PivotColumns,
    int[] PivotPlaces,
    int[] UpperCounts,
    int[] LowerCounts,
    int[] UpperSteps,
    int[] LowerSteps,
    int[] Targets
);
