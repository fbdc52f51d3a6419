namespace Consort.Engine.Design;

/// <summary>Where a piece of input stands: file (relative to the folder), line and column from 1, length in characters.</summary>
public readonly record struct SourceSpan(string File, int Line, int Column, int Length)
{
    /// <summary>For parts that the program itself adds (cords, supply wiring).</summary>
    public static SourceSpan None { get; } = new("", 0, 0, 0);
}
