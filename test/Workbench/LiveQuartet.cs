namespace Consort.Workbench.Tests;

/// <summary>Tests on a workbench of the quartet.</summary>
public abstract class LiveQuartet() : LiveExample("quartet");
