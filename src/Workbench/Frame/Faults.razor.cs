namespace Consort.Workbench.Frame;

/// <summary>What is wrong with the texts, as the command line tells it.</summary>
public sealed partial class Faults
{
    private int Count => State.Errors.Count(error => !error.IsNote);
}
