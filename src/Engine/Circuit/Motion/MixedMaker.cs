namespace Consort.Engine.Circuit.Motion;

/// <summary>
/// Steps without Newton, but with it while a comparator or a switch is on its way over: there a conductance grows by
/// decades within a step, which a method that takes its matrix from the step's start follows in splinters only. Each of
/// the two has its own tolerance for the same error of a period.
/// </summary>
internal sealed class MixedMaker(Circuit circuit, LinearMaker linear, StageMaker stages) : StepMaker
{
    private readonly ISwitching[] switching = [.. circuit.Banks.OfType<ISwitching>().Where(bank => bank.Watches > 0)];
    private StepMaker current = linear;

    /// <inheritdoc/>
    public override double[] From => current.From;

    /// <inheritdoc/>
    public override double[] To => current.To;

    /// <inheritdoc/>
    public override double[] Charge => current.Charge;

    /// <inheritdoc/>
    public override long Passes => linear.Passes + stages.Passes;

    /// <inheritdoc/>
    public override (string Unknown, double Residual) Worst => current.Worst;

    /// <inheritdoc/>
    public override void Start(double[] x, double time)
    {
        current = linear;
        current.Start(x, time);
    }

    /// <inheritdoc/>
    public override bool Make(double time, double h)
    {
        StepMaker next = IsTurning(time + 0.5 * h) ? stages : linear;
        if (next != current)
            next.TakeOver(current.From, current.Charge, time);
        current = next;
        return current.Make(time, h);
    }

    /// <inheritdoc/>
    public override double LocalError() => current.LocalError();

    /// <inheritdoc/>
    public override void Begin(double h) => current.Begin(h);

    /// <inheritdoc/>
    public override void TakeOver(double[] x, double[] charge, double time) => current.TakeOver(x, charge, time);

    /// <inheritdoc/>
    public override void ForgetSlope() => current.ForgetSlope();

    // No step passes a corner, so that what turns in its middle turns all along.
    private bool IsTurning(double time)
    {
        foreach (ISwitching bank in switching)
            if (bank.Moves(time))
                return true;
        return false;
    }
}
