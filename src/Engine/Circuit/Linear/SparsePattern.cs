namespace Consort.Engine.Circuit.Linear;

/// <summary>Where a sparse square matrix may be non-zero: one row and column a slot. Slot 0 is thrown away; rows and
/// columns count from 1 to <see cref="Size"/>.</summary>
public sealed record SparsePattern(int Size, int[] Rows, int[] Columns)
{
    /// <summary>Number of slots with the one that is thrown away.</summary>
    public int Slots => Rows.Length;
}
