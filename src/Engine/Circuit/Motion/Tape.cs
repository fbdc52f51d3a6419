namespace Consort.Engine.Circuit.Motion;

/// <summary>One accepted step as it was made.</summary>
/// <param name="Start">Time at its start, s.</param>
/// <param name="Length">s.</param>
/// <param name="Stages">States at all stages.</param>
/// <param name="Latched">What the switching banks had latched during the step.</param>
/// <param name="Watch">The watch that fired at its end; -1 for none.</param>
internal sealed record TapedStep(double Start, double Length, double[][] Stages, double[][] Latched, int Watch)
{
    public double End => Start + Length;
}

/// <summary>The accepted steps of a run, in order.</summary>
internal sealed class Tape(Circuit circuit)
{
    private readonly ISwitching[] switching = [.. circuit.Banks.OfType<ISwitching>()];

    public List<TapedStep> Steps { get; } = [];

    public void Record(double start, double length, StageMaker maker, int watch) =>
        Steps.Add(
            new(
                start,
                length,
                [.. maker.StageX.Select(x => (double[])x.Clone())],
                [.. switching.Select(bank => bank.Save())],
                watch
            )
        );

    /// <summary>Puts the banks back into the state in which a step was made.</summary>
    public void Restore(TapedStep step)
    {
        for (int i = 0; i < switching.Length; i++)
            switching[i].Restore(step.Latched[i]);
    }
}
